package org.evenwash.record;

import java.util.List;
import java.util.UUID;

/**
 * A few times a second while a cycle goes on; a lost one is not missed.
 *
 * @param phase {@code AGITATE} or {@code REST} within RUNNING, else null
 * @param bout counted from 1 through all repeats, 0 before the first
 * @param timeLeft_s to the end of the cycle if nothing interrupts
 * @param speed_rpm null when there is no reading
 */
public record LiveReading(
        String schema,
        String benchId,
        UUID cycleId,
        BenchState.State state,
        String phase,
        int bout,
        int bouts,
        double elapsed_s,
        double timeLeft_s,
        double boutLeft_s,
        double askedSpeed_rpm,
        Double speed_rpm,
        Double spiritTemperature_C,
        Double supply_V)
        implements Message {

    public static final String SCHEMA = "live/1.0";

    private static final List<String> PHASES = List.of("AGITATE", "REST");

    public LiveReading {
        SchemaVersion.check(schema, "live");
        Check.benchId(benchId);
        Check.present("cycleId", cycleId);
        Check.present("state", state);
        Check.optionalChoice("phase", phase, PHASES);
        Check.range("bout", bout, 0, 1_000);
        Check.range("bouts", bouts, 0, 1_000);
        Check.range("elapsed_s", elapsed_s, 0, CycleRecord.LONGEST_S);
        Check.range("timeLeft_s", timeLeft_s, 0, CycleRecord.LONGEST_S);
        Check.range("boutLeft_s", boutLeft_s, 0, CycleRecord.LONGEST_S);
        Check.range("askedSpeed_rpm", askedSpeed_rpm, 0, 3_000);
        Check.optionalRange("speed_rpm", speed_rpm, 0, 1e6);
        Check.optionalRange("spiritTemperature_C", spiritTemperature_C, -100, 1_000);
        Check.optionalRange("supply_V", supply_V, -1_000, 1_000);
    }
}
