package org.evenwash.logger.intake;

import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.OutboxNumbers;
import org.evenwash.logger.store.OutboxNumbers.Gap;
import org.evenwash.logger.store.StoredTicket;
import org.evenwash.logger.store.Tickets;
import org.evenwash.logger.wash.BenchLink;
import org.evenwash.logger.wash.TicketDesk;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.BenchState;

/**
 * What a bench is told when it comes back: its open tickets, those withdrawn while it was away, and
 * which of its kept records are missing here, as after restoring an older backup.
 */
final class Greeting {
    /** Asked for at once; more gaps wait for the next time the bench comes back. */
    private static final int MOST_RANGES = 50;

    private final Database database;
    private final BenchLink link;
    private final Clock clock;

    Greeting(Database database, BenchLink link, Clock clock) {
        this.database = database;
        this.link = link;
        this.clock = clock;
    }

    void greet(BenchState state) {
        List<StoredTicket> open = database.read(handle -> Tickets.open(handle, state.benchId()));
        open.forEach(ticket -> link.send(ticket.message()));
        for (BenchState.LoadedTicket loaded : state.tickets()) {
            withdrawn(loaded.ticketId())
                    .ifPresent(ticket -> link.send(TicketDesk.withdrawal(ticket)));
        }
        if (state.outbox() != null) {
            missing(state).forEach(gap -> link.send(resend(gap)));
        }
    }

    private Optional<StoredTicket> withdrawn(UUID ticketId) {
        return database.read(handle -> Tickets.find(handle, ticketId))
                .filter(ticket -> ticket.standing() == StoredTicket.Standing.WITHDRAWN);
    }

    /** Rows that the bench still holds without a receipt come by themselves and are not asked for. */
    private List<Gap> missing(BenchState state) {
        BenchState.OutboxState outbox = state.outbox();
        List<Gap> gaps = new ArrayList<>();
        for (Gap gap : database.read(handle -> OutboxNumbers.gaps(handle, state.benchId()))) {
            if (gap.outboxId().equals(outbox.outboxId())) {
                gaps.add(gap);
            }
        }
        long highest = database.read(handle -> OutboxNumbers.highest(handle, outbox.outboxId()));
        long released = outbox.lastSequence() - outbox.depth();
        if (released > highest) {
            gaps.add(new Gap(state.benchId(), outbox.outboxId(), highest + 1, released));
        }
        return gaps.subList(0, Math.min(gaps.size(), MOST_RANGES));
    }

    private BenchCommand resend(Gap gap) {
        return new BenchCommand(
                BenchCommand.SCHEMA,
                UUID.randomUUID(),
                gap.benchId(),
                clock.instant(),
                BenchCommand.Action.RESEND,
                null,
                new BenchCommand.Resend(gap.outboxId(), gap.from(), gap.to()));
    }
}
