package org.evenwash.controller.store;

import java.util.Optional;
import java.util.UUID;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Messages;
import org.evenwash.record.Topics;
import org.evenwash.record.UnreadableMessage;

/** What a payload says of itself. */
record Identity(UUID id, Topics.Kind kind, long sequence, UUID outboxId) {
    /** Empty when it is neither of what an outbox sends. */
    static Optional<Identity> in(byte[] payload) {
        try {
            CycleRecord cycle = Messages.read(payload, CycleRecord.class);
            return Optional.of(
                    new Identity(
                            cycle.cycleId(),
                            Topics.Kind.CYCLE,
                            cycle.sequence(),
                            cycle.outboxId()));
        } catch (UnreadableMessage notACycle) {
            return event(payload);
        }
    }

    private static Optional<Identity> event(byte[] payload) {
        try {
            BenchEvent event = Messages.read(payload, BenchEvent.class);
            return Optional.of(
                    new Identity(
                            event.eventId(),
                            Topics.Kind.EVENT,
                            event.sequence(),
                            event.outboxId()));
        } catch (UnreadableMessage notAnEvent) {
            return Optional.empty();
        }
    }
}
