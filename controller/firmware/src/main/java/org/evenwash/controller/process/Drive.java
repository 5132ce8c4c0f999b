package org.evenwash.controller.process;

/**
 * What the motor is told. The duty is computed anew on every scan from the speed asked for and the
 * speed seen, so a lost write heals itself.
 *
 * @param on the drive is commanded; agitation time runs while it is
 * @param setpoint_rpm speed asked for now, on its way along a ramp
 * @param trim_rpm what the closed loop has learnt to add, rpm
 * @param duty 0 to 1
 * @param since_ns uptime at which {@code on} last changed
 */
public record Drive(
        boolean on,
        boolean reverse,
        double setpoint_rpm,
        double trim_rpm,
        double duty,
        long since_ns) {

    static final Drive OFF = new Drive(false, false, 0, 0, 0, 0);

    /** Part of the error answered at once. */
    private static final double PROPORTIONAL = 0.5;

    /** Part of the error learnt per second; settles a loaded shaft in about a second. */
    private static final double INTEGRAL_PER_S = 1.5;

    /** The loop may correct a weak motor, never drive it by itself. */
    private static final double LARGEST_TRIM = 0.25;

    Drive off(long uptime_ns) {
        return on ? new Drive(false, reverse, 0, 0, 0, uptime_ns) : this;
    }

    /** Drives towards {@code asked_rpm}; without a believable speed it only steers, open loop. */
    Drive at(double asked_rpm, boolean turnBack, Machine m, Inputs in) {
        double full_rpm = m.settings().fullDrive_rpm();
        double error_rpm = asked_rpm - m.value(Sensor.TACHOMETER, in);
        double elapsed_s = on ? m.elapsed_ns(in) * 1e-9 : 0;
        double trim = on ? trim_rpm : 0;
        double push_rpm = 0;
        if (!Double.isNaN(error_rpm)) {
            double most_rpm = LARGEST_TRIM * full_rpm;
            trim = clamp(trim + INTEGRAL_PER_S * error_rpm * elapsed_s, -most_rpm, most_rpm);
            push_rpm = PROPORTIONAL * error_rpm;
        }
        double duty = asked_rpm <= 0 ? 0 : clamp((asked_rpm + trim + push_rpm) / full_rpm, 0, 1);
        return new Drive(true, turnBack, asked_rpm, trim, duty, on ? since_ns : in.uptime_ns());
    }

    private static double clamp(double value, double least, double most) {
        return Math.max(least, Math.min(most, value));
    }
}
