package org.evenwash.controller.process;

/**
 * The figures of a whole cycle.
 *
 * @param revolutions of the shaft, driven or coasting
 * @param agitated_ns of the bouts that are over
 */
record Facts(
        Stat spirit,
        Stat ambient,
        Stat motor,
        Stat supply,
        Stat current,
        long scans,
        long lateScans,
        long worstLate_ns,
        double revolutions,
        long agitated_ns,
        boolean warmAcknowledged) {

    static final Facts EMPTY =
            new Facts(
                    Stat.EMPTY,
                    Stat.EMPTY,
                    Stat.EMPTY,
                    Stat.EMPTY,
                    Stat.EMPTY,
                    0,
                    0,
                    0,
                    0,
                    0,
                    false);

    /** One more scan. It is late when it comes more than one period after it was due. */
    Facts observed(Machine m, Inputs in, long elapsed_ns, double turned) {
        long period_ns = m.settings().period().toNanos();
        long late_ns = elapsed_ns - period_ns;
        boolean late = late_ns > period_ns;
        return new Facts(
                spirit.add(m.value(Sensor.SPIRIT_TEMPERATURE, in)),
                ambient.add(m.value(Sensor.AMBIENT_TEMPERATURE, in)),
                motor.add(m.value(Sensor.MOTOR_TEMPERATURE, in)),
                supply.add(m.value(Sensor.SUPPLY_VOLTAGE, in)),
                current.add(m.value(Sensor.MOTOR_CURRENT, in)),
                scans + 1,
                lateScans + (late ? 1 : 0),
                late ? Math.max(worstLate_ns, late_ns) : worstLate_ns,
                revolutions + turned,
                agitated_ns,
                warmAcknowledged || m.memory().said().warm());
    }

    Facts boutOver(long boutAgitated_ns) {
        return new Facts(
                spirit,
                ambient,
                motor,
                supply,
                current,
                scans,
                lateScans,
                worstLate_ns,
                revolutions,
                agitated_ns + boutAgitated_ns,
                warmAcknowledged);
    }
}
