package org.evenwash.controller;

import java.time.Duration;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.process.Settings;
import org.evenwash.controller.process.Settings.Safety;

/**
 * A late scan does not trip: what runs in real time on a busy computer is to be measured, and no
 * motor hangs on it. No settings file of a bench may say so.
 */
final class Patience {
    private static final Duration OVERRUN_LIMIT = Duration.ofSeconds(5);

    private Patience() {}

    static Configuration with(Configuration c) {
        return new Configuration(
                c.benchId(),
                c.dataFolder(),
                with(c.settings()),
                c.recipe(),
                c.recipes(),
                c.broker(),
                c.keeping(),
                c.pulsesPerRevolution(),
                c.pins());
    }

    static Settings with(Settings s) {
        Safety strict = s.safety();
        Safety patient =
                new Safety(
                        OVERRUN_LIMIT,
                        strict.cautiousFlashPoint_C(),
                        strict.flashPointMargin_K(),
                        strict.refuseWarmSpirit(),
                        strict.cautionsHold(),
                        strict.proofTestEvery(),
                        strict.proofTestEvery_cycles());
        return new Settings(
                s.positions(),
                s.fitted(),
                s.period(),
                patient,
                s.limits(),
                s.fullDrive_rpm(),
                s.jars());
    }
}
