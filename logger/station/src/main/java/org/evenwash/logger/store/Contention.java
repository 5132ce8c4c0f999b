package org.evenwash.logger.store;

import java.sql.SQLException;
import java.util.Set;
import java.util.concurrent.ThreadLocalRandom;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;

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
