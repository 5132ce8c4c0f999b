package org.evenwash.controller.process;

import java.time.Duration;
import java.util.Set;
import java.util.function.Consumer;

/** The default settings with some of them changed. */
final class Changed {
    private static final Settings D = Settings.DEFAULTS;

    int positions = D.positions();
    Set<Sensor> fitted = D.fitted();
    double maxSpeed_rpm = D.maxSpeed_rpm();
    Duration overrunLimit = D.overrunLimit();
    Duration longestCycle = D.longestCycle();
    Duration stopRamp = D.stopRamp();
    double assumedFlashPoint_C = D.assumedFlashPoint_C();
    boolean refuseWarmSpirit = D.refuseWarmSpirit();
    Duration cautionsHold = D.cautionsHold();
    int proofTestCycles = D.proofTestCycles();
    int proofTestDays = D.proofTestDays();

    private Changed() {}

    static Settings settings(Consumer<Changed> change) {
        Changed c = new Changed();
        change.accept(c);
        return new Settings(
                c.positions,
                c.fitted,
                c.maxSpeed_rpm,
                D.fullDuty_rpm(),
                D.period(),
                c.overrunLimit,
                c.longestCycle,
                c.stopRamp,
                D.motorLimit_C(),
                D.flashMargin_K(),
                c.assumedFlashPoint_C,
                c.refuseWarmSpirit,
                D.supplyMin_V(),
                D.currentMax_A(),
                c.cautionsHold,
                c.proofTestCycles,
                c.proofTestDays,
                D.soakReminder(),
                D.soakLimit());
    }
}
