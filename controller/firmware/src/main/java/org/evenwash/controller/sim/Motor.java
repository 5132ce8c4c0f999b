package org.evenwash.controller.sim;

import java.util.SplittableRandom;

/**
 * A geared motor with jars on its shaft, and its tachometer: first-order in speed, heavier with
 * every jar, slower on a weak supply. A model to try the control with, not a model of a product.
 */
final class Motor {
    private static final double NO_LOAD_RPM = 420;
    private static final double NOMINAL_V = 12;
    private static final double TIME_CONSTANT_S = 0.12;
    private static final double TIME_CONSTANT_PER_JAR_S = 0.04;
    private static final double LOAD_PER_JAR_RPM = 12;
    private static final double FRICTION_RPM_PER_S = 60;
    private static final double PULSES_PER_REVOLUTION = 24;
    private static final double PULSE_JITTER = 0.004;

    private final SplittableRandom random;
    private double speed_rpm;
    private double pulses;
    private double sincePulse_s;
    private double seen_rpm;
    private double duty;
    private boolean blocked;
    private double pushed_rpm;

    Motor(SplittableRandom random) {
        this.random = random;
    }

    void block(boolean stuck) {
        blocked = stuck;
    }

    /** Someone or something turns the shaft although the drive is off. */
    void pushTo(double rpm) {
        pushed_rpm = rpm;
    }

    void advance(double elapsed_s, double powered, double supply_V, int jars) {
        duty = powered;
        double constant_s = TIME_CONSTANT_S + TIME_CONSTANT_PER_JAR_S * jars;
        double target_rpm = 0;
        if (powered > 0) {
            double load_rpm = LOAD_PER_JAR_RPM * jars;
            target_rpm = Math.max(0, powered * NO_LOAD_RPM * supply_V / NOMINAL_V - load_rpm);
        }
        double settled_rpm =
                target_rpm + (speed_rpm - target_rpm) * Math.exp(-elapsed_s / constant_s);
        if (powered <= 0) {
            settled_rpm = Math.max(0, settled_rpm - FRICTION_RPM_PER_S * elapsed_s);
        }
        double before_rpm = speed_rpm;
        speed_rpm = blocked ? 0 : Math.max(settled_rpm, pushed_rpm);
        count(elapsed_s, (before_rpm + speed_rpm) / 2);
    }

    /** The tachometer knows a speed only from the time between its pulses. */
    private void count(double elapsed_s, double mean_rpm) {
        double rate_per_s = mean_rpm / 60 * PULSES_PER_REVOLUTION;
        double before = pulses;
        pulses += rate_per_s * elapsed_s;
        double whole = Math.floor(pulses) - Math.floor(before);
        sincePulse_s += elapsed_s;
        if (whole >= 1) {
            double sinceLast_s = (pulses - Math.floor(pulses)) / rate_per_s;
            double interval_s = (sincePulse_s - sinceLast_s) / whole;
            double jitter = 1 + PULSE_JITTER * (2 * random.nextDouble() - 1);
            seen_rpm = 60 / (interval_s * PULSES_PER_REVOLUTION) * jitter;
            sincePulse_s = sinceLast_s;
        } else {
            // No pulse for so long: it cannot be faster than this.
            seen_rpm = Math.min(seen_rpm, 60 / (sincePulse_s * PULSES_PER_REVOLUTION));
        }
    }

    /** True speed, rpm: what no sensor can see. */
    double speed_rpm() {
        return speed_rpm;
    }

    /** What the tachometer makes of it, rpm. */
    double seen_rpm() {
        return seen_rpm;
    }

    double current_A() {
        double torque = duty > 0 ? Math.max(0, duty - speed_rpm / NO_LOAD_RPM) : 0;
        return duty > 0 ? 0.4 + 4 * torque : 0.02;
    }
}
