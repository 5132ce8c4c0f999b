package org.evenwash.logger.intake;

import java.time.Instant;
import java.util.ArrayList;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import org.evenwash.logger.store.Arrivals;
import org.evenwash.logger.store.BenchEvents;
import org.evenwash.logger.store.Cycles;
import org.evenwash.logger.store.OutboxNumbers;
import org.evenwash.logger.store.OutboxNumbers.Claim;
import org.evenwash.logger.store.Received;
import org.evenwash.logger.store.SetAside;
import org.evenwash.logger.store.SetAsides;
import org.evenwash.logger.store.Soak;
import org.evenwash.logger.store.StoredTicket;
import org.evenwash.logger.store.Tickets;
import org.evenwash.logger.store.WashPass;
import org.evenwash.logger.store.Washes;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Ids;
import org.evenwash.record.PlainText;
import org.evenwash.record.Position;
import org.evenwash.record.Receipt;
import org.jdbi.v3.core.Handle;

/**
 * Writes messages into the database, within a transaction that its caller commits. Two stations may do so
 * at once, even with the same message: each statement holds whatever the other does.
 */
final class Ledger {
    private static final int LONGEST_REASON = 1_000;

    /** Far beyond those that we read; PostgreSQL's indexes take no entry beyond 2,700 bytes. */
    private static final int LONGEST_TOPIC = 400;

    private final Handle handle;
    private final Instant at;
    private final IdentityHashMap<Reading, Outcome> outcomes = new IdentityHashMap<>();

    private Ledger(Handle handle, Instant at) {
        this.handle = handle;
        this.at = at;
    }

    /** What became of each message, in the order given. States and readings are not kept. */
    static List<Outcome> write(Handle handle, List<? extends Reading> messages, Instant at) {
        Ledger ledger = new Ledger(handle, at);
        ledger.events(only(Reading.Event.class, messages));
        ledger.cycles(only(Reading.Cycle.class, messages));
        only(Reading.Unreadable.class, messages).forEach(ledger::setAside);
        return messages.stream().map(ledger.outcomes::get).map(Objects::requireNonNull).toList();
    }

    private static <T extends Reading> List<T> only(Class<T> kind, List<? extends Reading> all) {
        return all.stream().filter(kind::isInstance).map(kind::cast).toList();
    }

    private void cycles(List<Reading.Cycle> messages) {
        List<Received<CycleRecord>> rows =
                messages.stream()
                        .map(
                                one ->
                                        new Received<>(
                                                one.record(), one.payload().text(), one.sha256()))
                        .toList();
        boolean[] isNew = Arrivals.cycles(handle, rows, at);
        List<CycleRecord> fresh = new ArrayList<>();
        for (int i = 0; i < isNew.length; i++) {
            Reading.Cycle message = messages.get(i);
            CycleRecord cycle = message.record();
            if (isNew[i]) {
                fresh.add(cycle);
                stored(message, cycle.benchId(), cycle.cycleId(), message.sha256());
            } else {
                String before = Cycles.sha256(handle, cycle.cycleId()).orElseThrow();
                seenBefore(message, cycle.benchId(), cycle.cycleId(), message.sha256(), before);
            }
        }
        claim(
                fresh.stream()
                        .map(
                                cycle ->
                                        new Claim(
                                                cycle.benchId(),
                                                cycle.outboxId(),
                                                cycle.sequence(),
                                                cycle.cycleId()))
                        .toList());
        Arrivals.soaks(handle, fresh.stream().flatMap(Ledger::soaks).toList());
        place(fresh);
    }

    private void claim(List<Claim> claims) {
        Set<UUID> clashing = OutboxNumbers.note(handle, claims);
        if (!clashing.isEmpty()) {
            Arrivals.flagClash(handle, clashing);
        }
    }

    private static Stream<Arrivals.Stood> soaks(CycleRecord cycle) {
        return cycle.positions().stream()
                .filter(position -> position.soak_s() != null)
                .map(
                        position ->
                                new Arrivals.Stood(
                                        cycle.cycleId(),
                                        new Soak(
                                                position.position(),
                                                position.soak_s(),
                                                Boolean.TRUE.equals(position.removed()))));
    }

    /**
     * Ties each jar position to the wash of its ticket. Without a ticket that was issued to this very
     * bench it waits for a person: a bench cannot claim any wash it likes.
     */
    private void place(List<CycleRecord> cycles) {
        List<Arrivals.Loose> loose = new ArrayList<>();
        for (CycleRecord cycle : cycles) {
            for (Position position : cycle.positions()) {
                Optional<StoredTicket> ticket = ticket(position.ticketId(), cycle.benchId());
                if (ticket.isPresent()) {
                    attach(cycle, position, ticket.get());
                } else {
                    loose.add(
                            new Arrivals.Loose(
                                    cycle.cycleId(), position.position(), position.pass()));
                }
            }
        }
        Arrivals.unassigned(handle, loose);
    }

    private Optional<StoredTicket> ticket(UUID ticketId, String benchId) {
        return Optional.ofNullable(ticketId)
                .flatMap(id -> Tickets.find(handle, id))
                .filter(ticket -> ticket.benchId().equals(benchId));
    }

    private void attach(CycleRecord cycle, Position position, StoredTicket ticket) {
        WashPass pass = Washes.pass(handle, ticket.washId(), position.pass());
        Cycles.attach(handle, cycle.cycleId(), position.position(), pass.id(), null, at);
        Tickets.ran(handle, ticket.id(), at);
        if (cycle.simulated()) {
            Washes.markSimulated(handle, ticket.washId());
        }
    }

    private void events(List<Reading.Event> messages) {
        List<Received<BenchEvent>> rows =
                messages.stream()
                        .map(one -> new Received<>(one.event(), one.payload().text(), one.sha256()))
                        .toList();
        boolean[] isNew = Arrivals.events(handle, rows, at);
        List<Claim> claims = new ArrayList<>();
        for (int i = 0; i < isNew.length; i++) {
            Reading.Event message = messages.get(i);
            BenchEvent event = message.event();
            if (isNew[i]) {
                claims.add(
                        new Claim(
                                event.benchId(),
                                event.outboxId(),
                                event.sequence(),
                                event.eventId()));
                answerTicket(event);
                stored(message, event.benchId(), event.eventId(), message.sha256());
            } else {
                String before = BenchEvents.sha256(handle, event.eventId()).orElseThrow();
                seenBefore(message, event.benchId(), event.eventId(), message.sha256(), before);
            }
        }
        claim(claims);
    }

    private void answerTicket(BenchEvent event) {
        boolean accepted = event.kind() == BenchEvent.Kind.TICKET_ACCEPTED;
        boolean refused = event.kind() == BenchEvent.Kind.TICKET_REFUSED;
        if ((accepted || refused) && ticket(event.ticketId(), event.benchId()).isPresent()) {
            StoredTicket.Standing standing =
                    accepted ? StoredTicket.Standing.ACCEPTED : StoredTicket.Standing.REFUSED;
            Tickets.move(handle, event.ticketId(), standing, refused ? event.text() : null, at);
        }
    }

    private void stored(Reading message, String benchId, UUID id, String sha256) {
        outcomes.put(message, new Outcome(benchId, id, sha256, Receipt.Result.STORED, null));
    }

    private void seenBefore(
            Reading message, String benchId, UUID id, String sha256, String storedSha256) {
        outcomes.put(
                message,
                sha256.equals(storedSha256)
                        ? new Outcome(benchId, id, sha256, Receipt.Result.DUPLICATE, null)
                        : setAside(
                                handle,
                                message,
                                benchId,
                                id,
                                sha256,
                                "has the id of a stored message but other content",
                                at));
    }

    private void setAside(Reading.Unreadable message) {
        outcomes.put(
                message,
                setAside(
                        handle,
                        message,
                        message.benchId(),
                        message.messageId(),
                        message.sha256(),
                        message.reason(),
                        at));
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
        String reason = plain(why, LONGEST_REASON);
        SetAsides.insert(
                handle,
                new SetAside(
                        Ids.next(),
                        at,
                        plain(message.topic(), LONGEST_TOPIC),
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

    /** Strangers' words, such as both databases keep them and a receipt may repeat them. */
    private static String plain(String text, int longest) {
        String plain = PlainText.of(text);
        return plain.length() <= longest ? plain : plain.substring(0, longest);
    }
}
