package org.evenwash.controller.process;

/**
 * A measured value and when it was taken, so that a sensor that fell silent is noticed.
 *
 * @param value in the unit of its {@link Sensor}; NaN when the sensor gave nothing
 * @param taken_ns uptime at which it was taken, in nanoseconds
 */
public record Reading(double value, long taken_ns) {
    public static final Reading MISSING = new Reading(Double.NaN, 0);

    /** True when the value is there, recent enough and physically possible for this sensor. */
    public boolean usable(Sensor sensor, long uptime_ns) {
        return !fault(sensor, uptime_ns);
    }

    boolean fault(Sensor sensor, long uptime_ns) {
        // Written so that NaN fails: every comparison with it is false.
        boolean plausible = value >= sensor.lowest() && value <= sensor.highest();
        return !plausible || uptime_ns - taken_ns > sensor.longestSilence_ns();
    }
}
