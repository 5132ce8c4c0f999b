package org.evenwash.logger.store;

import java.sql.SQLException;
import java.util.Set;
import java.util.concurrent.ThreadLocalRandom;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import org.sqlite.SQLiteException;

/**
 * Transactions that PostgreSQL undid because another one got in their way: done again they see what the
 * other wrote. SQLite never says so, since its writers wait for each other.
 */
final class Contention {
    /** SQLSTATE: serialization failure, deadlock detected. */
    private static final Set<String> GOT_IN_THE_WAY = Set.of("40001", "40P01");

    private static final int MOST_TRIES = 12;
    private static final long LONGEST_PAUSE_MS = 200;

    private Contention() {}

    /** Does {@code transaction}, at most 12 times; it must change nothing but the database. */
    static <T> T outlast(Supplier<T> transaction) {
        for (int attempt = 1; ; attempt++) {
            try {
                return transaction.get();
            } catch (RuntimeException e) {
                if (attempt == MOST_TRIES || !gotInTheWay(e)) {
                    throw e;
                }
                pause(attempt, e);
            }
        }
    }

    private static boolean gotInTheWay(Throwable trouble) {
        for (Throwable cause = trouble; cause != null; cause = cause.getCause()) {
            if (cause instanceof SQLException refused
                    && GOT_IN_THE_WAY.contains(String.valueOf(refused.getSQLState()))) {
                return true;
            }
        }
        return false;
    }

    /**
     * Whether the database itself was in trouble (away, locked, full), so that the same may succeed later.
     * Otherwise it refused what it was given. SQLite: 18 too big, 19 constraint, 20 mismatch; SQLSTATE
     * classes: 22 data exception, 23 integrity constraint, 54 limit exceeded.
     */
    static boolean isOwnTrouble(Throwable trouble) {
        for (Throwable cause = trouble; cause != null; cause = cause.getCause()) {
            if (cause instanceof SQLiteException refused) {
                return refused.getErrorCode() < 18 || refused.getErrorCode() > 20;
            }
            if (cause instanceof SQLException refused) {
                String state = String.valueOf(refused.getSQLState());
                return !(state.startsWith("22")
                        || state.startsWith("23")
                        || state.startsWith("54"));
            }
        }
        return false;
    }

    /** By chance, so that the two do not meet again at once. */
    private static void pause(int attempt, RuntimeException reason) {
        long bound_ms = Math.min(1L << attempt, LONGEST_PAUSE_MS);
        try {
            TimeUnit.MILLISECONDS.sleep(ThreadLocalRandom.current().nextLong(bound_ms + 1));
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw reason;
        }
    }
}
