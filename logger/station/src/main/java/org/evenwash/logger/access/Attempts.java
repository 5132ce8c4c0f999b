package org.evenwash.logger.access;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Map;
import java.util.UUID;
import org.evenwash.logger.store.Account;
import org.evenwash.logger.store.Accounts;
import org.evenwash.logger.store.Database;

/**
 * Counts attempts at a password: ten wrong ones in a row lock for a while, and when that has passed the
 * count begins anew. An attempt is counted before the password is looked at, so that many at once are
 * no more than many one after the other; a right one sets the count back.
 */
final class Attempts {
    static final int MOST = 10;

    /** Long enough to make guessing hopeless, short enough to wait for. */
    static final Duration LOCKED = Duration.ofMinutes(15);

    /** How often without a right one, and until when no more is looked at; null while some are left. */
    private record Count(int failures, Instant lockedUntil) {
        static final Count NONE = new Count(0, null);

        boolean locked(Instant now) {
            return lockedUntil != null && lockedUntil.isAfter(now);
        }

        Count oneMore(Instant now) {
            int next = lockedUntil == null ? failures + 1 : 1;
            return new Count(next, next >= MOST ? now.plus(LOCKED) : null);
        }
    }

    private final Database database;
    private final Clock clock;

    /** Names that no account has: their count is kept here only, and of the latest. */
    private final Map<String, Count> unknown = new Latest<>();

    Attempts(Database database, Clock clock) {
        this.database = database;
        this.clock = clock;
    }

    /** Takes one attempt at an account's password, counted for all loggers; false if it is locked. */
    boolean take(Account asRead) {
        Instant now = clock.instant();
        if (asRead.lockedUntil() != null && asRead.lockedUntil().isAfter(now)) {
            return false;
        }
        return database.append(
                handle -> Accounts.attempt(handle, asRead.id(), MOST, now, now.plus(LOCKED)));
    }

    /**
     * As {@link #take(Account)} for a name that no account has. It writes as much, so that the time taken
     * does not tell them apart.
     */
    boolean take(String name) {
        Instant now = clock.instant();
        synchronized (unknown) {
            Count count = unknown.getOrDefault(name, Count.NONE);
            if (count.locked(now)) {
                return false;
            }
            unknown.put(name, count.oneMore(now));
        }
        database.append(Accounts::noAttempt);
        return true;
    }

    void right(UUID accountId) {
        database.change(handle -> Accounts.unlock(handle, accountId));
    }
}
