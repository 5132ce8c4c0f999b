package org.evenwash.controller.process;

import java.time.Duration;

/**
 * Every sensor a bench can have: its name as the operator reads it and, for measured values, what
 * is physically possible. The ranges are wide on purpose: they catch a broken sensor, not a warm
 * day.
 */
public enum Sensor {
    E_STOP("emergency stop contact"),
    LID("lid contact"),
    JARS("jar contacts"),
    GUARD("guard contact"),
    CONTACTOR("contactor read-back"),
    DRIVER("driver healthy line"),
    TACHOMETER("tachometer", "rpm", 0, 6000, Duration.ofMillis(250)),
    MOTOR_TEMPERATURE("motor temperature sensor", "°C", -30, 150, Duration.ofSeconds(5)),
    SPIRIT_TEMPERATURE("spirit temperature sensor", "°C", -30, 90, Duration.ofSeconds(5)),
    AMBIENT_TEMPERATURE("ambient temperature sensor", "°C", -30, 70, Duration.ofSeconds(5)),
    SUPPLY_VOLTAGE("supply voltage sensor", "V", 0, 60, Duration.ofSeconds(1)),
    MOTOR_CURRENT("motor current sensor", "A", 0, 100, Duration.ofSeconds(1));

    private final String title;
    private final String unit;
    private final double lowest;
    private final double highest;
    private final long longestSilence_ns;

    Sensor(String title) {
        this(title, "", 0, 0, Duration.ZERO);
    }

    Sensor(String title, String unit, double lowest, double highest, Duration longestSilence) {
        this.title = title;
        this.unit = unit;
        this.lowest = lowest;
        this.highest = highest;
        this.longestSilence_ns = longestSilence.toNanos();
    }

    /** Its name in the operator's words. */
    public String title() {
        return title;
    }

    /** Unit of its values; empty for a contact. */
    public String unit() {
        return unit;
    }

    public double lowest() {
        return lowest;
    }

    public double highest() {
        return highest;
    }

    public Duration longestSilence() {
        return Duration.ofNanos(longestSilence_ns);
    }

    long longestSilence_ns() {
        return longestSilence_ns;
    }
}
