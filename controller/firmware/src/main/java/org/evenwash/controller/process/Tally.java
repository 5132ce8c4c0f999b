package org.evenwash.controller.process;

import java.time.Duration;

/**
 * The figures of the bout under way.
 *
 * @param speed between the ramps, rpm
 * @param atSpeed_ns time between the ramps
 * @param inBand_ns of that, time within the recipe's tolerance
 * @param revolutions while driven
 */
record Tally(Stat speed, long atSpeed_ns, long inBand_ns, double revolutions) {
    static final Tally EMPTY = new Tally(Stat.EMPTY, 0, 0, 0);

    /** On a ramp: only the revolutions count. */
    Tally ramped(double turned) {
        return new Tally(speed, atSpeed_ns, inBand_ns, revolutions + turned);
    }

    Tally atSpeed(double speed_rpm, boolean inBand, long elapsed_ns, double turned) {
        return new Tally(
                speed.add(speed_rpm),
                atSpeed_ns + elapsed_ns,
                inBand_ns + (inBand ? elapsed_ns : 0),
                revolutions + turned);
    }

    BoutEvidence evidence(Progress progress, Bout planned) {
        return new BoutEvidence(
                progress.bout() + 1,
                planned,
                Duration.ofNanos(progress.begunAfter_ns()),
                Duration.ofNanos(progress.agitated_ns()),
                Duration.ZERO,
                speed,
                Duration.ofNanos(atSpeed_ns),
                Duration.ofNanos(inBand_ns),
                revolutions);
    }
}
