package org.evenwash.controller.process;

import java.time.Duration;
import java.util.Set;
import java.util.function.Consumer;

/** The default settings with some of them changed. */
final class Changed {
    private static final Settings D = Settings.DEFAULTS;

    int positions = D.positions();
    Set<Sensor> fitted = D.fitted();
    double fastest_rpm = D.limits().fastest_rpm();
    Duration overrunLimit = D.safety().overrunLimit();
    Duration longestCycle = D.limits().longestCycle();
    Duration longestStopRamp = D.limits().longestStopRamp();
    double cautiousFlashPoint_C = D.safety().cautiousFlashPoint_C();
    boolean refuseWarmSpirit = D.safety().refuseWarmSpirit();
    Duration cautionsHold = D.safety().cautionsHold();
    Duration proofTestEvery = D.safety().proofTestEvery();
    int proofTestEvery_cycles = D.safety().proofTestEvery_cycles();

    private Changed() {}

    static Settings settings(Consumer<Changed> change) {
        Changed c = new Changed();
        change.accept(c);
        return new Settings(
                c.positions,
                c.fitted,
                D.period(),
                new Settings.Safety(
                        c.overrunLimit,
                        c.cautiousFlashPoint_C,
                        D.safety().flashPointMargin_K(),
                        c.refuseWarmSpirit,
                        c.cautionsHold,
                        c.proofTestEvery,
                        c.proofTestEvery_cycles),
                new Settings.Limits(
                        c.fastest_rpm,
                        c.longestCycle,
                        c.longestStopRamp,
                        D.limits().motorHottest_C(),
                        D.limits().supplyLowest_V(),
                        D.limits().currentMost_A()),
                D.fullDrive_rpm(),
                D.jars());
    }
}
