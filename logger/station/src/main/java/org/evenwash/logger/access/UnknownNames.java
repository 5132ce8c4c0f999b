package org.evenwash.logger.access;

import java.time.Clock;
import java.time.Instant;
import java.util.Map;
import org.evenwash.logger.store.Accounts;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.wash.Latest;

/**
 * Attempts with names that no account has, counted as {@link Attempts} counts those of accounts,
 * but in memory only, and of the latest names: strangers choose them.
 */
final class UnknownNames {
    private static final int MOST_NAMES = 10_000;

    /** How often, and until when no more is looked at; null while some are left. */
    private record Count(int failures, Instant lockedUntil) {
        static final Count NONE = new Count(0, null);

        boolean locked(Instant now) {
            return Attempts.locks(lockedUntil, now);
        }

        Count oneMore(Instant now) {
            int next = lockedUntil == null ? failures + 1 : 1;
            return new Count(next, next >= Attempts.MOST ? now.plus(Attempts.LOCKED) : null);
        }
    }

    private final Database database;
    private final Clock clock;
    private final Map<String, Count> counts = new Latest<>(MOST_NAMES);

    UnknownNames(Database database, Clock clock) {
        this.database = database;
        this.clock = clock;
    }

    /**
     * Takes one attempt; false if there is none left. It writes as much as {@link Attempts#take},
     * so that the time taken does not tell known names from unknown ones.
     */
    boolean take(String name) {
        Instant now = clock.instant();
        synchronized (counts) {
            Count count = counts.getOrDefault(name, Count.NONE);
            if (count.locked(now)) {
                return false;
            }
            counts.put(name, count.oneMore(now));
        }
        database.append(Accounts::noAttempt);
        return true;
    }
}
