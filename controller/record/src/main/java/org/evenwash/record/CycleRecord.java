package org.evenwash.record;

import java.time.Instant;
import java.util.List;
import java.util.UUID;

/**
 * What happened in one cycle, second by second. Times within the cycle come from the bench's
 * monotonic clock and count from the start of the cycle; the UTC labels carry whether the clock was
 * synchronised.
 *
 * @param cycleId the record's identity
 * @param bootId changes with every start of the controller
 * @param outboxId made with the outbox file; {@code sequence} has no gaps within it
 * @param simulated true where no real motor turned
 * @param positions one entry for each jar position in use; the record leaves when all jars are
 *     out, or after the longest soak that the bench watches
 * @param continuesCycleId the cycle before it on the same jar, null for the first
 * @param endedBy tag of the interlock or request that ended it; null when COMPLETE
 * @param clock whether {@code startedAt} and {@code endedAt} can be trusted
 * @param agitation_s sum over bouts, each from its first drive command to its removal
 * @param withinTolerance_s the part of it within the recipe's speed tolerance
 * @param acknowledged tags of the start conditions that a person overrode for this cycle alone
 */
public record CycleRecord(
        String schema,
        UUID cycleId,
        String benchId,
        UUID bootId,
        UUID outboxId,
        long sequence,
        boolean simulated,
        String controllerVersion,
        List<Position> positions,
        UUID continuesCycleId,
        RecipeSheet recipe,
        Outcome outcome,
        String endedBy,
        Instant startedAt,
        Instant endedAt,
        ClockState clock,
        double duration_s,
        double plannedAgitation_s,
        double agitation_s,
        double withinTolerance_s,
        double revolutions,
        List<BoutDone> bouts,
        List<RestDone> rests,
        List<Interruption> interruptions,
        List<String> acknowledged,
        Conditions conditions,
        ScanHealth scan,
        SpeedTrace trace,
        Conformity conformity)
        implements Message {

    public static final String SCHEMA = "cycle/1.0";

    /** Longest cycle that a bench will run, s. */
    public static final double LONGEST_S = 6 * 3_600;

    /**
     * One bout as it was run.
     *
     * @param bout counted from 1 through all repeats
     * @param startedAfter_s from the start of the cycle to the first drive command
     * @param meanSpeed_rpm null when no speed was read
     */
    public record BoutDone(
            int bout,
            double startedAfter_s,
            double plannedAgitation_s,
            double agitation_s,
            double askedSpeed_rpm,
            Double meanSpeed_rpm,
            Double minSpeed_rpm,
            Double maxSpeed_rpm,
            double revolutions,
            double withinTolerance_s,
            boolean reverse) {
        public BoutDone {
            Check.range("bout", bout, 1, 1_000);
            Check.range("startedAfter_s", startedAfter_s, 0, LONGEST_S);
            Check.range("plannedAgitation_s", plannedAgitation_s, 0, LONGEST_S);
            Check.range("agitation_s", agitation_s, 0, LONGEST_S);
            Check.range("askedSpeed_rpm", askedSpeed_rpm, 0, 3_000);
            Check.optionalRange("meanSpeed_rpm", meanSpeed_rpm, 0, 1e6);
            Check.optionalRange("minSpeed_rpm", minSpeed_rpm, 0, 1e6);
            Check.optionalRange("maxSpeed_rpm", maxSpeed_rpm, 0, 1e6);
            Check.range("revolutions", revolutions, 0, 1e7);
            Check.range("withinTolerance_s", withinTolerance_s, 0, LONGEST_S);
        }
    }

    /** A rest as it was kept. {@code afterBout} counts as {@link BoutDone#bout} does. */
    public record RestDone(
            int afterBout, double startedAfter_s, double plannedRest_s, double rest_s) {
        public RestDone {
            Check.range("afterBout", afterBout, 1, 1_000);
            Check.range("startedAfter_s", startedAfter_s, 0, LONGEST_S);
            Check.range("plannedRest_s", plannedRest_s, 0, LONGEST_S);
            Check.range("rest_s", rest_s, 0, LONGEST_S);
        }
    }

    /** A time in which the cycle did not go on, and what caused it. */
    public record Interruption(
            String tag, String reason, double startedAfter_s, double length_s, int bout) {
        public Interruption {
            Check.text("tag", tag);
            Check.text("reason", reason);
            Check.range("startedAfter_s", startedAfter_s, 0, LONGEST_S);
            Check.range("length_s", length_s, 0, LONGEST_S);
            Check.range("bout", bout, 0, 1_000);
        }
    }

    /** Least, mean and greatest reading over the cycle. */
    public record Range(double min, double mean, double max) {
        public Range {
            Check.range("max", max, min, 1e6);
            Check.range("mean", mean, min, max);
        }
    }

    /** Surroundings; null where nothing was read. */
    public record Conditions(
            Range spiritTemperature_C,
            Range ambientTemperature_C,
            Range motorTemperature_C,
            Range supply_V,
            Range motorCurrent_A) {}

    /** How well the controller kept its 10 ms period. */
    public record ScanHealth(long scans, long lateScans, double worstLateness_ms) {
        public ScanHealth {
            Check.atLeast("scans", scans, 0);
            Check.atLeast("lateScans", lateScans, 0);
            Check.range("worstLateness_ms", worstLateness_ms, 0, 1e9);
        }
    }

    /** Speed at a steady interval from the start; -1 where no reading was to be had. */
    public record SpeedTrace(double interval_s, List<Double> speed_rpm) {
        public static final double NO_READING = -1;

        public SpeedTrace {
            Check.range("interval_s", interval_s, 0.01, 60);
            speed_rpm = Check.list("speed_rpm", speed_rpm, (int) LONGEST_S + 2);
            for (double speed : speed_rpm) {
                Check.range("speed_rpm", speed, NO_READING, 1e6);
            }
        }
    }

    /** Whether the cycle was what its recipe asks, point by point. */
    public record Conformity(boolean conforms, List<Point> points) {
        /**
         * @param point what was judged, such as {@code total agitation}
         * @param evidence what was asked and what was found, with units
         */
        public record Point(String point, boolean ok, String evidence) {
            public Point {
                Check.text("point", point);
                Check.text("evidence", evidence);
            }
        }

        public Conformity {
            points = Check.list("points", points, 1_000);
            if (conforms != points.stream().allMatch(Point::ok)) {
                throw new ContractViolation("conforms", "contradicts its points");
            }
        }
    }

    public CycleRecord {
        SchemaVersion.check(schema, "cycle");
        Check.present("cycleId", cycleId);
        Check.benchId(benchId);
        Check.present("bootId", bootId);
        Check.present("outboxId", outboxId);
        Check.atLeast("sequence", sequence, 1);
        Check.text("controllerVersion", controllerVersion);
        positions = Check.list("positions", positions, Position.MOST);
        Check.present("recipe", recipe);
        Check.present("outcome", outcome);
        Check.optionalText("endedBy", endedBy);
        Check.present("startedAt", startedAt);
        Check.present("endedAt", endedAt);
        Check.present("clock", clock);
        Check.range("duration_s", duration_s, 0, LONGEST_S);
        Check.range("plannedAgitation_s", plannedAgitation_s, 0, LONGEST_S);
        Check.range("agitation_s", agitation_s, 0, LONGEST_S);
        Check.range("withinTolerance_s", withinTolerance_s, 0, LONGEST_S);
        Check.range("revolutions", revolutions, 0, 1e7);
        bouts = Check.list("bouts", bouts, 1_000);
        rests = Check.list("rests", rests, 1_000);
        interruptions = Check.list("interruptions", interruptions, 1_000);
        acknowledged = Check.texts("acknowledged", acknowledged, 100);
        Check.present("conditions", conditions);
        Check.present("scan", scan);
        Check.present("trace", trace);
        Check.present("conformity", conformity);
    }

    /** The same record under the number that this outbox gives it. */
    public CycleRecord numbered(UUID newOutboxId, long newSequence) {
        return new CycleRecord(
                schema,
                cycleId,
                benchId,
                bootId,
                newOutboxId,
                newSequence,
                simulated,
                controllerVersion,
                positions,
                continuesCycleId,
                recipe,
                outcome,
                endedBy,
                startedAt,
                endedAt,
                clock,
                duration_s,
                plannedAgitation_s,
                agitation_s,
                withinTolerance_s,
                revolutions,
                bouts,
                rests,
                interruptions,
                acknowledged,
                conditions,
                scan,
                trace,
                conformity);
    }
}
