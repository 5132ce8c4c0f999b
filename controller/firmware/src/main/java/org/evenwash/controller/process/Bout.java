package org.evenwash.controller.process;

import java.time.Duration;

/**
 * One bout of agitation and the rest after it.
 *
 * @param agitation from the first drive command to its removal, both ramps included
 * @param speed_rpm of the shaft between the ramps
 * @param ramp from standstill to speed, and again from speed to standstill; may be zero
 * @param rest with the motor off, after the agitation; may be zero
 * @param reverse the shaft turns the other way in this bout
 */
public record Bout(
        Duration agitation, double speed_rpm, Duration ramp, Duration rest, boolean reverse) {

    /** The planned speed after {@code agitated_ns} of this bout, rpm. */
    double profile_rpm(long agitated_ns) {
        long left_ns = agitation.toNanos() - agitated_ns;
        return speed_rpm * Math.min(rampPart(agitated_ns), rampPart(left_ns));
    }

    /** How far up the ramp a shaft is that left standstill {@code elapsed_ns} ago, 0 to 1. */
    double rampPart(long elapsed_ns) {
        if (elapsed_ns >= ramp.toNanos()) {
            return 1;
        }
        return Math.max(0, (double) elapsed_ns / ramp.toNanos());
    }
}
