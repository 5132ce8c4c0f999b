package org.evenwash.controller.store;

import java.time.Instant;
import java.util.List;
import java.util.UUID;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.ClockState;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.CycleRecord.Conformity;
import org.evenwash.record.Outcome;
import org.evenwash.record.Pass;
import org.evenwash.record.Position;
import org.evenwash.record.Receipt;
import org.evenwash.record.RecipeSheet;

/** Small messages for tests of the outbox. */
final class SampleMessages {
    private static final Instant THEN = Instant.parse("2026-06-01T09:30:00Z");

    private SampleMessages() {}

    static CycleRecord cycle(UUID cycleId, UUID outboxId, long sequence, Outcome outcome) {
        return new CycleRecord(
                CycleRecord.SCHEMA,
                cycleId,
                "bench-1",
                new UUID(1, 1),
                outboxId,
                sequence,
                true,
                "test",
                List.of(new Position(1, null, null, Pass.FIRST)),
                null,
                RecipeSheet.of(
                        "short",
                        "Short",
                        1,
                        List.of(new RecipeSheet.Bout(2, 120, 0.5, 0, false)),
                        1,
                        new RecipeSheet.Tolerances(0.2, 2, 0.1, 0.9),
                        60),
                outcome,
                null,
                THEN,
                THEN.plusSeconds(2),
                ClockState.UNSYNCHRONISED,
                2,
                2,
                2,
                1.5,
                4,
                List.of(),
                List.of(),
                List.of(),
                List.of(),
                new CycleRecord.Conditions(null, null, null, null, null),
                new CycleRecord.ScanHealth(200, 0, 0),
                new CycleRecord.SpeedTrace(1, List.of(0.0, 120.0)),
                new Conformity(true, List.of()));
    }

    static BenchEvent event(UUID eventId, UUID outboxId, long sequence) {
        return new BenchEvent(
                BenchEvent.SCHEMA,
                eventId,
                "bench-1",
                new UUID(1, 1),
                outboxId,
                sequence,
                true,
                THEN,
                ClockState.UNSYNCHRONISED,
                1.5,
                BenchEvent.Kind.BOOTED,
                null,
                null,
                null,
                "The controller started.");
    }

    static Receipt receipt(OutboxFile.Row row) {
        return new Receipt(
                Receipt.SCHEMA, row.messageId(), row.sha256(), Receipt.Result.STORED, null);
    }
}
