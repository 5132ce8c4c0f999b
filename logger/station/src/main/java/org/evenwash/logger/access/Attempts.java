package org.evenwash.logger.access;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
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

    private final Database database;
    private final Clock clock;

    Attempts(Database database, Clock clock) {
        this.database = database;
        this.clock = clock;
    }

    /** Takes one attempt at an account's password, counted for all loggers; false if it is locked. */
    boolean take(Account asRead) {
        Instant now = clock.instant();
        if (locks(asRead.lockedUntil(), now)) {
            return false;
        }
        return database.append(
                handle -> Accounts.attempt(handle, asRead.id(), MOST, now, now.plus(LOCKED)));
    }

    /**
     * Whether an attempt at {@code now} comes too early.
     *
     * @param until null if it never was locked; further ahead than any lock reaches once the clock was set
     *     back, and then it is over
     */
    static boolean locks(Instant until, Instant now) {
        return until != null && until.isAfter(now) && !until.isAfter(now.plus(LOCKED));
    }

    void right(UUID accountId) {
        database.change(handle -> Accounts.unlock(handle, accountId));
    }
}
