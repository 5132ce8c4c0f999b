package org.evenwash.logger.intake;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.function.Supplier;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.MissingNumbers;
import org.evenwash.logger.store.OutboxNumbers;
import org.evenwash.logger.store.OutboxNumbers.Gap;
import org.evenwash.logger.store.StoredTicket;
import org.evenwash.logger.store.Tickets;
import org.evenwash.logger.wash.BenchLink;
import org.evenwash.logger.wash.TicketDesk;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.BenchState;
import org.evenwash.record.Ids;
import org.evenwash.record.Ticket;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * What a bench is told when it comes back: its open tickets, those withdrawn while it was away, and
 * which of its kept records are missing here, as after restoring an older backup. Whether some are is
 * looked at again when its state says that more were released: a receipt of the time before the restore
 * may have waited at the broker.
 */
final class Greeting {
    /** Asked for at once; more gaps wait for the next time the bench comes back. */
    private static final int MOST_RANGES = 50;

    /** A request may be lost on its way; what a bench does not have is asked for ever more seldom. */
    private static final Duration FIRST_WAIT = Duration.ofSeconds(25);

    private static final Duration LONGEST_WAIT = Duration.ofHours(1);

    /** A stranger on a broker could invent benches without end. */
    private static final int MOST_BENCHES = 20_000;

    private static final Logger LOG = LoggerFactory.getLogger(Greeting.class);

    /** How far a bench had got when it was last looked at, and what was asked for then. */
    private record Asked(long released, List<Gap> gaps, Instant at, Duration patience) {
        /** A clock that was set back counts as due, too. */
        boolean due(Instant now) {
            return now.isBefore(at) || !now.isBefore(at.plus(patience));
        }

        Duration longer() {
            Duration twice = patience.multipliedBy(2);
            return twice.compareTo(LONGEST_WAIT) < 0 ? twice : LONGEST_WAIT;
        }
    }

    private final Map<String, Asked> asked = new HashMap<>();
    private final Set<String> owed = new HashSet<>();
    private final Database database;
    private final MissingNumbers missing = new MissingNumbers();
    private final BenchLink link;
    private final Clock clock;

    Greeting(Database database, BenchLink link, Clock clock) {
        this.database = database;
        this.link = link;
        this.clock = clock;
    }

    /** A bench whose greeting the database was in the way of; it is greeted with its next state. */
    boolean owes(String benchId) {
        return owed.contains(benchId);
    }

    void greet(BenchState state) {
        String bench = state.benchId();
        if (owed.size() > MOST_BENCHES) {
            owed.clear();
        }
        owed.add(bench);
        List<String> open =
                unlessBroken(
                        bench,
                        "its open tickets",
                        List.of(),
                        () -> database.read(handle -> Tickets.openIds(handle, bench)));
        open.forEach(id -> send(bench, id, ticket -> Optional.of(ticket.message())));
        for (BenchState.LoadedTicket loaded : state.tickets()) {
            send(bench, loaded.ticketId().toString(), Greeting::withdrawal);
        }
        if (state.outbox() != null) {
            ask(state, missing(state), FIRST_WAIT);
        }
        owed.remove(bench);
    }

    private static Optional<Ticket> withdrawal(StoredTicket ticket) {
        return ticket.standing() == StoredTicket.Standing.WITHDRAWN
                ? Optional.of(TicketDesk.withdrawal(ticket))
                : Optional.empty();
    }

    private void send(
            String bench, String ticketId, Function<StoredTicket, Optional<Ticket>> message) {
        unlessBroken(
                bench,
                "ticket " + ticketId,
                false,
                () -> {
                    Optional<Ticket> found =
                            database.read(handle -> Tickets.find(handle, ticketId))
                                    .flatMap(message);
                    found.ifPresent(link::send);
                    return found.isPresent();
                });
    }

    /** One row that is damaged, or one message that cannot be sent, keeps nothing else from the bench. */
    private static <T> T unlessBroken(String bench, String what, T otherwise, Supplier<T> work) {
        try {
            return work.get();
        } catch (RuntimeException e) {
            if (Database.isOwnTrouble(e)) {
                throw e;
            }
            LOG.error("bench {} is greeted without {}: {}", bench, what, Database.refusal(e));
            return otherwise;
        }
    }

    /** A later state of a bench that was greeted. */
    void look(BenchState state) {
        if (state.outbox() == null) {
            return;
        }
        Asked before = asked.get(state.benchId());
        boolean due = before == null || before.due(clock.instant());
        boolean nothingNew = before != null && before.released() == released(state.outbox());
        if (nothingNew && (before.gaps().isEmpty() || !due)) {
            return;
        }
        List<Gap> gaps = missing(state);
        boolean same = before != null && gaps.equals(before.gaps());
        if (due || !same) {
            ask(state, gaps, same ? before.longer() : FIRST_WAIT);
        } else {
            // So that the database is not asked again before anything is new.
            asked.put(
                    state.benchId(),
                    new Asked(released(state.outbox()), gaps, before.at(), before.patience()));
        }
    }

    private void ask(BenchState state, List<Gap> gaps, Duration wait) {
        if (asked.size() > MOST_BENCHES) {
            asked.clear();
        }
        for (Gap gap : gaps) {
            unlessBroken(
                    state.benchId(),
                    "a request for missing records",
                    false,
                    () -> link.send(resend(gap)));
        }
        asked.put(
                state.benchId(), new Asked(released(state.outbox()), gaps, clock.instant(), wait));
    }

    private static long released(BenchState.OutboxState outbox) {
        return outbox.lastSequence() - outbox.depth();
    }

    private List<Gap> missing(BenchState state) {
        return unlessBroken(
                state.benchId(), "a look for missing records", List.of(), () -> gaps(state));
    }

    /** Rows that the bench still holds without a receipt come by themselves and are not asked for. */
    private List<Gap> gaps(BenchState state) {
        UUID outbox = state.outbox().outboxId();
        List<Gap> gaps = new ArrayList<>(database.read(handle -> missing.of(handle, outbox)));
        long highest = database.read(handle -> OutboxNumbers.highest(handle, outbox));
        long released = released(state.outbox());
        if (released > highest) {
            gaps.add(new Gap(state.benchId(), outbox, highest + 1, released));
        }
        return List.copyOf(gaps.subList(0, Math.min(gaps.size(), MOST_RANGES)));
    }

    private BenchCommand resend(Gap gap) {
        return new BenchCommand(
                BenchCommand.SCHEMA,
                Ids.next(),
                gap.benchId(),
                clock.instant(),
                BenchCommand.Action.RESEND,
                null,
                new BenchCommand.Resend(gap.outboxId(), gap.from(), gap.to()));
    }
}
