package org.evenwash.logger.intake;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.wash.BenchLink;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.BenchState;
import org.evenwash.record.ClockState;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Ids;
import org.evenwash.record.LiveReading;
import org.evenwash.record.Outcome;
import org.evenwash.record.Pass;
import org.evenwash.record.Position;
import org.evenwash.record.RecipeSheet;
import org.evenwash.record.Ticket;

/** Messages as a bench would send them. */
final class Samples {
    /** Where no bench is to be reached. */
    static final class NoLink implements BenchLink {
        @Override
        public void send(Ticket ticket) {
            throw new AssertionError("a ticket was sent");
        }

        @Override
        public boolean send(BenchCommand command) {
            throw new AssertionError("a command was sent");
        }
    }

    static final RecipeSheet RECIPE =
            RecipeSheet.of(
                    "one-bout",
                    "One bout",
                    1,
                    List.of(new RecipeSheet.Bout(60, 150, 2, 0, false)),
                    1,
                    new RecipeSheet.Tolerances(0.1, 1, 0.1, 0.9),
                    60);
    private static final UUID BOOT = UUID.randomUUID();
    private static final Instant START = Instant.parse("2026-06-01T09:00:00Z");

    private Samples() {}

    static CycleRecord cycle(String bench, UUID id, UUID outbox, long sequence) {
        return cycle(
                bench,
                id,
                outbox,
                sequence,
                new Position(1, null, null, Pass.FIRST, 42.5, true),
                60.0);
    }

    static CycleRecord cycle(String bench, UUID outbox, long sequence, Ticket ticket) {
        return cycle(
                bench,
                UUID.randomUUID(),
                outbox,
                sequence,
                new Position(
                        ticket.position(),
                        ticket.ticketId(),
                        ticket.washId(),
                        ticket.pass(),
                        42.5,
                        true),
                60.0);
    }

    static CycleRecord cycle(
            String bench,
            UUID id,
            UUID outbox,
            long sequence,
            Position position,
            double agitation_s) {
        return new CycleRecord(
                CycleRecord.SCHEMA,
                id,
                bench,
                BOOT,
                outbox,
                sequence,
                true,
                "test",
                List.of(position),
                null,
                RECIPE,
                Outcome.COMPLETE,
                null,
                START,
                START.plusSeconds(60),
                ClockState.SYNCHRONISED,
                60,
                60,
                agitation_s,
                55,
                150,
                List.of(
                        new CycleRecord.BoutDone(
                                1, 0, 60, agitation_s, 150, 150.0, 149.0, 151.0, 150, 55, false)),
                List.of(),
                List.of(),
                List.of(),
                new CycleRecord.Conditions(null, null, null, null, null),
                new CycleRecord.ScanHealth(6_000, 0, 0.3),
                new CycleRecord.SpeedTrace(1, List.of(0.0, 150.0)),
                new CycleRecord.Conformity(
                        true,
                        List.of(
                                new CycleRecord.Conformity.Point(
                                        "total agitation", true, "60.0 s asked, 60.0 s done"))));
    }

    /** As long as a real one: three bouts, two rests, a trace of three minutes. */
    static CycleRecord fullCycle(String bench, UUID outbox, long sequence) {
        List<CycleRecord.BoutDone> bouts = new ArrayList<>();
        List<CycleRecord.RestDone> rests = new ArrayList<>();
        for (int bout = 1; bout <= 3; bout++) {
            bouts.add(
                    new CycleRecord.BoutDone(
                            bout,
                            70 * (bout - 1),
                            40,
                            40,
                            150,
                            149.2,
                            138.5,
                            152.25,
                            99.4,
                            37.6,
                            bout == 2));
            rests.add(new CycleRecord.RestDone(bout, 70 * bout - 30, 30, 30.01));
        }
        List<Double> trace = new ArrayList<>();
        for (int second = 0; second < 180; second++) {
            trace.add(second % 70 < 40 ? 149.5 + second % 7 / 10.0 : 0.0);
        }
        List<CycleRecord.Conformity.Point> points = new ArrayList<>();
        for (String point : List.of("total agitation", "speed", "rests", "interruptions")) {
            points.add(
                    new CycleRecord.Conformity.Point(point, true, "120.0 s asked, 120.0 s done"));
        }
        CycleRecord.Range range = new CycleRecord.Range(18.2, 19.5, 21.75);
        return new CycleRecord(
                CycleRecord.SCHEMA,
                Ids.next(),
                bench,
                BOOT,
                outbox,
                sequence,
                true,
                "test",
                List.of(new Position(1, null, null, Pass.FIRST, 42.5, true)),
                null,
                RECIPE,
                Outcome.COMPLETE,
                null,
                START.plusSeconds(300 * sequence),
                START.plusSeconds(300 * sequence + 180),
                ClockState.SYNCHRONISED,
                180,
                120,
                120,
                112.8,
                298.2,
                bouts,
                rests.subList(0, 2),
                List.of(),
                List.of(),
                new CycleRecord.Conditions(range, range, range, range, range),
                new CycleRecord.ScanHealth(18_000, 3, 2.25),
                new CycleRecord.SpeedTrace(1, trace),
                new CycleRecord.Conformity(true, points));
    }

    static BenchEvent event(
            String bench, UUID outbox, long sequence, BenchEvent.Kind kind, UUID ticketId) {
        return new BenchEvent(
                BenchEvent.SCHEMA,
                UUID.randomUUID(),
                bench,
                BOOT,
                outbox,
                sequence,
                true,
                START,
                ClockState.SYNCHRONISED,
                12.5,
                kind,
                null,
                null,
                ticketId,
                "speed is above this bench's limit");
    }

    static LiveReading live(String bench, UUID cycle) {
        return new LiveReading(
                LiveReading.SCHEMA,
                bench,
                cycle,
                BenchState.State.RUNNING,
                "AGITATE",
                1,
                3,
                12.5,
                47.5,
                7.5,
                150,
                149.5,
                20.5,
                12.1);
    }

    static BenchState online(
            String bench, List<BenchState.LoadedTicket> loaded, BenchState.OutboxState outbox) {
        return new BenchState(
                BenchState.SCHEMA,
                bench,
                UUID.randomUUID(),
                true,
                "test",
                START,
                ClockState.SYNCHRONISED,
                BenchState.State.IDLE,
                null,
                null,
                loaded,
                List.of(),
                List.of(),
                true,
                null,
                outbox);
    }
}
