package org.evenwash.record;

import java.time.Instant;
import java.util.UUID;

/**
 * Something that happened at a bench and must not be lost; travels through the same outbox as cycle
 * records and shares their sequence.
 *
 * @param uptime_s monotonic time since the controller started
 * @param tag the interlock's, where {@code kind} is about one
 * @param text one sentence for a person
 */
public record BenchEvent(
        String schema,
        UUID eventId,
        String benchId,
        UUID bootId,
        UUID outboxId,
        long sequence,
        boolean simulated,
        Instant at,
        ClockState clock,
        double uptime_s,
        Kind kind,
        String tag,
        UUID cycleId,
        UUID ticketId,
        String text)
        implements Message {

    public static final String SCHEMA = "event/1.0";

    public enum Kind {
        BOOTED,
        INTERLOCK_TRIPPED,
        INTERLOCK_CLEARED,
        START_REFUSED,
        CAUTIONS_ACKNOWLEDGED,
        CONDITION_ACKNOWLEDGED,
        PROOF_TEST_PASSED,
        PROOF_TEST_FAILED,
        TICKET_ACCEPTED,
        TICKET_REFUSED,
        TICKET_WITHDRAWN,
        /** So many events came in a short time that some were only counted. */
        EVENTS_LEFT_OUT
    }

    public BenchEvent {
        SchemaVersion.check(schema, "event");
        Check.present("eventId", eventId);
        Check.benchId(benchId);
        Check.present("bootId", bootId);
        Check.present("outboxId", outboxId);
        Check.atLeast("sequence", sequence, 1);
        Check.present("at", at);
        Check.present("clock", clock);
        Check.range("uptime_s", uptime_s, 0, 1e10);
        Check.present("kind", kind);
        Check.optionalText("tag", tag);
        Check.text("text", text);
    }
}
