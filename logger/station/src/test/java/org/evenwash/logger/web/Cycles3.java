package org.evenwash.logger.web;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.evenwash.record.BenchState;
import org.evenwash.record.ClockState;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.LiveReading;
import org.evenwash.record.Outcome;
import org.evenwash.record.Pass;
import org.evenwash.record.Position;
import org.evenwash.record.RecipeSheet;
import org.evenwash.record.Ticket;

/** Invented messages of a bench that runs three bouts of 40 s with rests of 20 s. */
final class Cycles3 {
    static final RecipeSheet RECIPE =
            RecipeSheet.of(
                    "two-minutes",
                    "Two minutes in three bouts",
                    1,
                    List.of(new RecipeSheet.Bout(40, 180, 1.5, 20, false)),
                    3,
                    new RecipeSheet.Tolerances(0.2, 2, 0.1, 0.9),
                    300);
    private static final UUID BOOT = new UUID(4, 4);
    private static final UUID OUTBOX = new UUID(5, 5);
    private static final double BOUT_S = 40;
    private static final double REST_S = 20;
    private static final double ASKED_RPM = 180;

    private Cycles3() {}

    static CycleRecord complete(long sequence, Instant at, UUID washId) {
        return cycle(
                Scene.BENCH,
                sequence,
                at,
                List.of(new Position(1, null, washId, Pass.FIRST)),
                List.of());
    }

    /** What a bench sends that has run these tickets together, as their recipe asks. */
    static CycleRecord of(List<Ticket> tickets, String bench, long sequence, Instant at) {
        List<Position> positions =
                tickets.stream()
                        .map(
                                one ->
                                        new Position(
                                                one.position(),
                                                one.ticketId(),
                                                one.washId(),
                                                one.pass()))
                        .toList();
        return cycle(bench, sequence, at, positions, List.of());
    }

    static CycleRecord interrupted(long sequence, Instant at) {
        var cut = new CycleRecord.Interruption("LID-OPEN", "The lid was opened", 72, 9, 2);
        return cycle(
                Scene.BENCH,
                sequence,
                at,
                List.of(new Position(1, null, null, Pass.FIRST)),
                List.of(cut));
    }

    /** What goes on from a copied card: numbers of the same outbox, cycles of its own. */
    static CycleRecord copied(String bench, long sequence, Instant at) {
        return cycle(
                id("copied cycle " + sequence),
                bench,
                sequence,
                at,
                List.of(new Position(1, null, null, Pass.FIRST)),
                List.of());
    }

    private static UUID id(String words) {
        return UUID.nameUUIDFromBytes(words.getBytes(StandardCharsets.UTF_8));
    }

    private static CycleRecord cycle(
            String bench,
            long sequence,
            Instant at,
            List<Position> positions,
            List<CycleRecord.Interruption> cuts) {
        return cycle(id("cycle " + sequence), bench, sequence, at, positions, cuts);
    }

    private static CycleRecord cycle(
            UUID cycleId,
            String bench,
            long sequence,
            Instant at,
            List<Position> positions,
            List<CycleRecord.Interruption> cuts) {
        List<CycleRecord.BoutDone> bouts = new ArrayList<>();
        List<CycleRecord.RestDone> rests = new ArrayList<>();
        for (int bout = 1; bout <= 3; bout++) {
            double start_s = (bout - 1) * (BOUT_S + REST_S);
            bouts.add(
                    new CycleRecord.BoutDone(
                            bout, start_s, BOUT_S, BOUT_S, ASKED_RPM, 178.0, 0.0, 183.0, 117.4, 38,
                            false));
            rests.add(new CycleRecord.RestDone(bout, start_s + BOUT_S, REST_S, REST_S));
        }
        var warm = new CycleRecord.Range(18.1, 18.4, 18.9);
        boolean conforms = cuts.isEmpty();
        return new CycleRecord(
                CycleRecord.SCHEMA,
                cycleId,
                bench,
                BOOT,
                OUTBOX,
                sequence,
                true,
                "0.1.0",
                positions,
                null,
                RECIPE,
                Outcome.COMPLETE,
                null,
                at,
                at.plusSeconds(180),
                ClockState.SYNCHRONISED,
                180,
                120,
                120,
                114,
                352,
                bouts,
                rests,
                cuts,
                List.of(),
                new CycleRecord.Conditions(
                        warm,
                        warm,
                        new CycleRecord.Range(24, 26, 31),
                        new CycleRecord.Range(12, 12.1, 12.2),
                        null),
                new CycleRecord.ScanHealth(18_000, 3, 12.5),
                new CycleRecord.SpeedTrace(1, trace(cuts)),
                new CycleRecord.Conformity(
                        conforms,
                        List.of(
                                new CycleRecord.Conformity.Point(
                                        "total agitation", true, "120 s asked, 120 s done"),
                                new CycleRecord.Conformity.Point(
                                        "interruptions",
                                        conforms,
                                        conforms ? "none" : "one of 9 s in bout 2"))));
    }

    private static List<Double> trace(List<CycleRecord.Interruption> cuts) {
        List<Double> speeds = new ArrayList<>();
        for (int second = 0; second <= 180; second++) {
            double within = second % (BOUT_S + REST_S);
            double ramp = Math.min(1, Math.min(within, BOUT_S - within) / 1.5);
            double speed = within > BOUT_S ? 0 : ASKED_RPM * Math.max(0, ramp);
            for (CycleRecord.Interruption cut : cuts) {
                boolean inside =
                        second >= cut.startedAfter_s()
                                && second < cut.startedAfter_s() + cut.length_s();
                speed = inside ? 0 : speed;
            }
            speeds.add(speed == 0 ? 0 : speed + second % 5 - 2);
        }
        return speeds;
    }

    static BenchState state(BenchState.State state, UUID washId) {
        return new BenchState(
                BenchState.SCHEMA,
                Scene.BENCH,
                BOOT,
                true,
                "0.1.0",
                Scene.NOON,
                ClockState.SYNCHRONISED,
                state,
                state == BenchState.State.IDLE ? null : new UUID(9, 9),
                RECIPE,
                List.of(
                        new BenchState.LoadedTicket(
                                1, new UUID(2, 2), washId, "Alder", Pass.FIRST)),
                state == BenchState.State.HELD
                        ? List.of(
                                new BenchState.TrippedInterlock(
                                        "LID-OPEN",
                                        "safety",
                                        "The lid is open.",
                                        "Close the lid, then press restart at the bench.",
                                        true))
                        : List.of(),
                state == BenchState.State.IDLE ? List.of() : List.of("A cycle is going on."),
                true,
                new BenchState.ProofTest(true, "30 days have passed.", Scene.NOON, 41),
                new BenchState.OutboxState(OUTBOX, 2, 6));
    }

    static LiveReading live(double elapsed_s) {
        return new LiveReading(
                LiveReading.SCHEMA,
                Scene.BENCH,
                new UUID(9, 9),
                BenchState.State.RUNNING,
                "AGITATE",
                2,
                3,
                elapsed_s,
                180 - elapsed_s,
                20.25,
                ASKED_RPM,
                178.6,
                18.5,
                12.1);
    }
}
