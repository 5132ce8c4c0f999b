package org.evenwash.logger.intake;

import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.logger.store.BenchEvents;
import org.evenwash.logger.store.Benches;
import org.evenwash.logger.store.Cycles;
import org.evenwash.logger.store.OutboxNumbers;
import org.evenwash.logger.store.SetAside;
import org.evenwash.logger.store.SetAsides;
import org.evenwash.logger.store.Soak;
import org.evenwash.logger.store.StoredTicket;
import org.evenwash.logger.store.Tickets;
import org.evenwash.logger.store.WashPass;
import org.evenwash.logger.store.Washes;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Position;
import org.evenwash.record.Receipt;
import org.jdbi.v3.core.Handle;

/** Writes one message into the database, within a transaction that its caller commits. */
final class Ledger {
    private static final int LONGEST_REASON = 1_000;

    private Ledger() {}

    static Outcome write(Handle handle, Reading reading, Instant at) {
        if (reading instanceof Reading.Cycle cycle) {
            return write(handle, cycle, at);
        }
        if (reading instanceof Reading.Event event) {
            return write(handle, event, at);
        }
        if (reading instanceof Reading.Unreadable unreadable) {
            return setAside(
                    handle,
                    unreadable,
                    unreadable.benchId(),
                    unreadable.messageId(),
                    unreadable.sha256(),
                    unreadable.reason(),
                    at);
        }
        throw new IllegalArgumentException("states and readings are not kept");
    }

    private static Outcome write(Handle handle, Reading.Cycle message, Instant at) {
        CycleRecord cycle = message.record();
        Optional<String> stored = Cycles.sha256(handle, cycle.cycleId());
        if (stored.isPresent()) {
            return seenBefore(
                    handle,
                    message,
                    cycle.benchId(),
                    cycle.cycleId(),
                    message.sha256(),
                    stored.get(),
                    at);
        }
        boolean clash =
                OutboxNumbers.note(
                        handle,
                        cycle.benchId(),
                        cycle.outboxId(),
                        cycle.sequence(),
                        cycle.cycleId());
        Benches.seen(handle, cycle.benchId(), cycle.simulated(), at);
        Cycles.insert(handle, cycle, message.sha256(), clash, at);
        cycle.positions()
                .forEach(
                        position -> {
                            soak(handle, cycle, position);
                            place(handle, cycle, position, at);
                        });
        return new Outcome(
                cycle.benchId(), cycle.cycleId(), message.sha256(), Receipt.Result.STORED, null);
    }

    private static void soak(Handle handle, CycleRecord cycle, Position position) {
        if (position.soak_s() != null) {
            boolean removed = Boolean.TRUE.equals(position.removed());
            Soak soak = new Soak(position.position(), position.soak_s(), removed);
            Cycles.putSoak(handle, cycle.cycleId(), soak);
        }
    }

    /**
     * Ties a jar position to the wash of its ticket. Without a ticket that was issued to this very bench
     * it waits for a person: a bench cannot claim any wash it likes.
     */
    private static void place(Handle handle, CycleRecord cycle, Position position, Instant at) {
        Optional<StoredTicket> ticket =
                Optional.ofNullable(position.ticketId())
                        .flatMap(id -> Tickets.find(handle, id))
                        .filter(one -> one.benchId().equals(cycle.benchId()));
        if (ticket.isEmpty()) {
            Cycles.leaveUnassigned(handle, cycle.cycleId(), position.position(), position.pass());
            return;
        }
        UUID washId = ticket.get().washId();
        WashPass pass = Washes.pass(handle, washId, position.pass());
        Cycles.attach(handle, cycle.cycleId(), position.position(), pass.id(), null, at);
        Tickets.ran(handle, ticket.get().id(), at);
        if (cycle.simulated()) {
            Washes.markSimulated(handle, washId);
        }
    }

    private static Outcome write(Handle handle, Reading.Event message, Instant at) {
        BenchEvent event = message.event();
        Optional<String> stored = BenchEvents.sha256(handle, event.eventId());
        if (stored.isPresent()) {
            return seenBefore(
                    handle,
                    message,
                    event.benchId(),
                    event.eventId(),
                    message.sha256(),
                    stored.get(),
                    at);
        }
        boolean clash =
                OutboxNumbers.note(
                        handle,
                        event.benchId(),
                        event.outboxId(),
                        event.sequence(),
                        event.eventId());
        Benches.seen(handle, event.benchId(), event.simulated(), at);
        BenchEvents.insert(handle, event, message.sha256(), clash, at);
        answerTicket(handle, event, at);
        return new Outcome(
                event.benchId(), event.eventId(), message.sha256(), Receipt.Result.STORED, null);
    }

    private static void answerTicket(Handle handle, BenchEvent event, Instant at) {
        boolean ours =
                event.ticketId() != null
                        && Tickets.find(handle, event.ticketId())
                                .filter(ticket -> ticket.benchId().equals(event.benchId()))
                                .isPresent();
        if (ours && event.kind() == BenchEvent.Kind.TICKET_ACCEPTED) {
            Tickets.move(handle, event.ticketId(), StoredTicket.Standing.ACCEPTED, null, at);
        } else if (ours && event.kind() == BenchEvent.Kind.TICKET_REFUSED) {
            Tickets.move(handle, event.ticketId(), StoredTicket.Standing.REFUSED, event.text(), at);
        }
    }

    private static Outcome seenBefore(
            Handle handle,
            Reading message,
            String benchId,
            UUID id,
            String sha256,
            String storedSha256,
            Instant at) {
        return sha256.equals(storedSha256)
                ? new Outcome(benchId, id, sha256, Receipt.Result.DUPLICATE, null)
                : setAside(
                        handle,
                        message,
                        benchId,
                        id,
                        sha256,
                        "has the id of a stored message but other content",
                        at);
    }

    /** Keeps a message that cannot be taken, with the reason. */
    static Outcome setAside(
            Handle handle,
            Reading message,
            String benchId,
            UUID messageId,
            String sha256,
            String why,
            Instant at) {
        String reason = why.length() <= LONGEST_REASON ? why : why.substring(0, LONGEST_REASON);
        SetAsides.insert(
                handle,
                new SetAside(
                        UUID.randomUUID(),
                        at,
                        message.topic(),
                        benchId,
                        messageId,
                        reason,
                        sha256,
                        message.payload().size_bytes(),
                        null,
                        null),
                message.payload().bytes());
        return new Outcome(benchId, messageId, sha256, Receipt.Result.SET_ASIDE, reason);
    }
}
