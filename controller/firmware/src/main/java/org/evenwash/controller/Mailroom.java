package org.evenwash.controller;

import java.time.Instant;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import org.evenwash.controller.mqtt.BrokerLink;
import org.evenwash.controller.port.Clock;
import org.evenwash.controller.port.Remote;
import org.evenwash.controller.process.RemoteRequest;
import org.evenwash.controller.store.OutboxWriter;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.Messages;
import org.evenwash.record.Receipt;
import org.evenwash.record.Ticket;
import org.evenwash.record.Topics;
import org.evenwash.record.UnreadableMessage;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * What comes in from the broker: tickets go to the desk, receipts to the outbox, hold and stop to
 * the next scan. There is no branch here that could start motion.
 */
final class Mailroom implements BrokerLink.Receiver, Remote {
    private static final Logger LOG = LoggerFactory.getLogger(Mailroom.class);
    private static final int MOST_REMEMBERED = 256;

    /** Two clocks that are both synchronised may still differ by about this. */
    private static final long SKEW_S = 2;

    private final String benchId;
    private final Desk desk;
    private final OutboxWriter outbox;
    private final Clock clock;
    private final Announcer announcer;
    private final Runnable receiptSeen;
    private final Set<UUID> seenCommands = Collections.newSetFromMap(remembering());
    private final Map<UUID, String> ticketAnswers = remembering();
    private final AtomicReference<Request> request = new AtomicReference<>();

    private record Request(RemoteRequest asked, UUID cycleId, long received_ns) {}

    /** Says in an event what the bench did with a message. */
    interface Announcer {
        void announce(BenchEvent.Kind kind, UUID ticketId, String text);
    }

    Mailroom(
            String benchId,
            Desk desk,
            OutboxWriter outbox,
            Clock clock,
            Announcer announcer,
            Runnable receiptSeen) {
        this.benchId = benchId;
        this.desk = desk;
        this.outbox = outbox;
        this.clock = clock;
        this.announcer = announcer;
        this.receiptSeen = receiptSeen;
    }

    @Override
    public void received(Topics.Kind kind, byte[] payload) {
        try {
            switch (kind) {
                case TICKET -> ticket(Messages.read(payload, Ticket.class));
                case COMMAND -> command(Messages.read(payload, BenchCommand.class));
                case RECEIPT -> receipt(Messages.read(payload, Receipt.class));
                case CYCLE, STATE, LIVE, EVENT ->
                        LOG.warn("A {} came in, which only benches send: ignored.", kind);
            }
        } catch (UnreadableMessage e) {
            LOG.warn("A {} could not be read and is ignored: {}", kind, e.getMessage());
        }
    }

    private void ticket(Ticket ticket) {
        Desk.Answer answer =
                ticket.action() == Ticket.Action.LOAD ? desk.load(ticket) : desk.withdraw(ticket);
        LOG.info("Ticket {}: {}", ticket.ticketId(), answer.text());
        if (!answer.news()) {
            return;
        }
        // The logger offers open tickets again and again: the same answer is told once.
        String before = ticketAnswers.put(ticket.ticketId(), answer.text());
        if (answer.text().equals(before)) {
            return;
        }
        announcer.announce(kind(ticket, answer), ticket.ticketId(), answer.text());
    }

    private static BenchEvent.Kind kind(Ticket ticket, Desk.Answer answer) {
        if (!answer.accepted()) {
            return BenchEvent.Kind.TICKET_REFUSED;
        }
        return ticket.action() == Ticket.Action.LOAD
                ? BenchEvent.Kind.TICKET_ACCEPTED
                : BenchEvent.Kind.TICKET_WITHDRAWN;
    }

    private void command(BenchCommand command) {
        if (!command.benchId().equals(benchId) || !seenCommands.add(command.commandId())) {
            LOG.info("Command {} is for another bench or came twice: ignored.", command.action());
            return;
        }
        // A resend moves nothing, so it may be old: the logger's clock may be hours off.
        boolean moves = command.action() != BenchCommand.Action.RESEND;
        if (moves && clock.synchronised() && expired(command.issuedAt())) {
            LOG.info("Command {} is older than it may be: ignored.", command.action());
            return;
        }
        switch (command.action()) {
            case HOLD -> ask(RemoteRequest.HOLD, command.cycleId());
            case STOP -> ask(RemoteRequest.STOP, command.cycleId());
            case RESEND ->
                    outbox.resend(
                            command.resend().outboxId(),
                            command.resend().from(),
                            command.resend().to());
        }
    }

    /** By the real wall clock, simulated or not: the sender's is one too. */
    private static boolean expired(Instant issuedAt) {
        long age_s = Instant.now().getEpochSecond() - issuedAt.getEpochSecond();
        return age_s > BenchCommand.EXPIRY_S + SKEW_S || age_s < -SKEW_S;
    }

    private void ask(RemoteRequest asked, UUID cycleId) {
        request.set(new Request(asked, cycleId, System.nanoTime()));
    }

    private void receipt(Receipt receipt) {
        outbox.release(receipt);
        receiptSeen.run();
    }

    @Override
    public RemoteRequest take(UUID cycleId) {
        if (request.get() == null) {
            return RemoteRequest.NONE;
        }
        Request waiting = request.getAndSet(null);
        long age_s = TimeUnit.NANOSECONDS.toSeconds(System.nanoTime() - waiting.received_ns());
        boolean fits = waiting.cycleId().equals(cycleId) && age_s < BenchCommand.EXPIRY_S;
        if (!fits) {
            LOG.info("{} was asked for cycle {}: ignored.", waiting.asked(), waiting.cycleId());
        }
        return fits ? waiting.asked() : RemoteRequest.NONE;
    }

    /** A map that forgets its oldest. */
    private static <V> Map<UUID, V> remembering() {
        return new LinkedHashMap<>() {
            private static final long serialVersionUID = 1L;

            @Override
            protected boolean removeEldestEntry(Map.Entry<UUID, V> eldest) {
                return size() > MOST_REMEMBERED;
            }
        };
    }
}
