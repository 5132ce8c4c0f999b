package org.evenwash.logger.intake;

import java.util.UUID;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.BenchState;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.LiveReading;

/** What a delivered message turned out to be. */
sealed interface Reading {
    String topic();

    Payload payload();

    record Cycle(String topic, Payload payload, String sha256, CycleRecord record)
            implements Reading {}

    record Event(String topic, Payload payload, String sha256, BenchEvent event)
            implements Reading {}

    record State(String topic, Payload payload, BenchState state) implements Reading {}

    record Live(String topic, Payload payload, LiveReading reading) implements Reading {}

    /**
     * Not to be taken.
     *
     * @param benchId from the topic, null where it names none
     * @param messageId as far as it could be made out, else null
     */
    record Unreadable(
            String topic,
            Payload payload,
            String sha256,
            String benchId,
            UUID messageId,
            String reason)
            implements Reading {}
}
