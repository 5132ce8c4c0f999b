package org.evenwash.record;

import java.time.Instant;
import java.util.List;
import java.util.UUID;

/** One message of each kind with every field filled in. */
final class Samples {
    static final UUID CYCLE = new UUID(1, 1);
    static final UUID TICKET = new UUID(2, 2);
    static final UUID WASH = new UUID(3, 3);
    static final UUID BOOT = new UUID(4, 4);
    static final UUID OUTBOX = new UUID(5, 5);
    static final Instant AT = Instant.parse("2031-02-03T04:05:06.789Z");

    static final RecipeSheet RECIPE =
            RecipeSheet.of(
                    "two-minutes",
                    "Two minutes in three bouts",
                    2,
                    List.of(new RecipeSheet.Bout(40, 180, 1.5, 60, true)),
                    3,
                    new RecipeSheet.Tolerances(0.2, 2, 0.1, 0.9),
                    300);

    private Samples() {}

    static List<Message> all() {
        return List.of(cycle(), state(), live(), event(), ticket(), command(), receipt());
    }

    static CycleRecord cycle() {
        var range = new CycleRecord.Range(18.5, 19.25, 20);
        return new CycleRecord(
                CycleRecord.SCHEMA,
                CYCLE,
                "shed-1",
                BOOT,
                OUTBOX,
                17,
                true,
                "0.1.0",
                List.of(new Position(1, TICKET, WASH, Pass.FIRST, 45.5, true)),
                new UUID(6, 6),
                RECIPE,
                Outcome.STOPPED,
                "OPERATOR-STOP",
                AT,
                AT.plusSeconds(60),
                ClockState.UNSYNCHRONISED,
                60.25,
                120,
                39.75,
                36,
                118.5,
                List.of(
                        new CycleRecord.BoutDone(
                                1, 0.02, 40, 39.75, 180, 178.5, 0.0, 184.0, 118.5, 36, true)),
                List.of(new CycleRecord.RestDone(1, 39.77, 60, 20.48)),
                List.of(
                        new CycleRecord.Interruption(
                                "LID-OPEN", "The lid was opened.", 12.5, 3.25, 1)),
                List.of("SPIRIT-WARM"),
                new CycleRecord.Conditions(range, range, range, range, range),
                new CycleRecord.ScanHealth(6025, 2, 13.5),
                new CycleRecord.SpeedTrace(
                        1, List.of(0.0, 180.5, CycleRecord.SpeedTrace.NO_READING)),
                new CycleRecord.Conformity(
                        false,
                        List.of(
                                new CycleRecord.Conformity.Point(
                                        "total agitation", false, "120 s asked, 39.75 s found"))));
    }

    static BenchState state() {
        return new BenchState(
                BenchState.SCHEMA,
                "shed-1",
                BOOT,
                true,
                "0.1.0",
                AT,
                ClockState.SYNCHRONISED,
                BenchState.State.HELD,
                CYCLE,
                RECIPE,
                List.of(new BenchState.LoadedTicket(1, TICKET, WASH, "Colony 7", Pass.SECOND)),
                List.of(
                        new BenchState.TrippedInterlock(
                                "LID-OPEN", "safety", "The lid is open.", "Close the lid.", true)),
                List.of("The lid is open."),
                true,
                new BenchState.ProofTest(true, "30 days are over", AT, 12),
                new BenchState.OutboxState(OUTBOX, 3, 17));
    }

    static LiveReading live() {
        return new LiveReading(
                LiveReading.SCHEMA,
                "shed-1",
                CYCLE,
                BenchState.State.RUNNING,
                "AGITATE",
                2,
                3,
                101.5,
                139.5,
                20.25,
                180,
                179.5,
                19.5,
                12.125);
    }

    static BenchEvent event() {
        return new BenchEvent(
                BenchEvent.SCHEMA,
                new UUID(7, 7),
                "shed-1",
                BOOT,
                OUTBOX,
                18,
                true,
                AT,
                ClockState.UNKNOWN,
                1234.5,
                BenchEvent.Kind.INTERLOCK_TRIPPED,
                "JAR-MISSING",
                CYCLE,
                TICKET,
                "The jar is missing.");
    }

    static Ticket ticket() {
        return new Ticket(
                Ticket.SCHEMA,
                TICKET,
                "shed-1",
                AT,
                Ticket.Action.LOAD,
                1,
                WASH,
                Pass.FIRST,
                "Colony 7",
                "Ada",
                RECIPE,
                new Ticket.Spirit("ethanol", 48.5, 24.0));
    }

    static BenchCommand command() {
        return new BenchCommand(
                BenchCommand.SCHEMA,
                new UUID(8, 8),
                "shed-1",
                AT,
                BenchCommand.Action.RESEND,
                CYCLE,
                new BenchCommand.Resend(OUTBOX, 3, 9));
    }

    static Receipt receipt() {
        return new Receipt(
                Receipt.SCHEMA,
                CYCLE,
                Messages.sha256(new byte[0]),
                Receipt.Result.SET_ASIDE,
                "same cycleId, other content");
    }
}
