package org.evenwash.logger;

import java.util.HashMap;
import java.util.Map;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import org.evenwash.logger.store.Benches;
import org.evenwash.logger.store.Database;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Looks every second whether a bench's password became void or changed, and has its connection cut. By
 * way of the database, because the command that does it is a process of its own.
 */
final class BenchWatch implements AutoCloseable {
    private static final long PERIOD_MS = 1_000;
    private static final Logger LOG = LoggerFactory.getLogger(BenchWatch.class);

    private final Database database;
    private final Consumer<String> cut;
    private final ScheduledExecutorService watch =
            Executors.newSingleThreadScheduledExecutor(
                    work -> {
                        Thread thread = new Thread(work, "bench-watch");
                        thread.setDaemon(true);
                        return thread;
                    });
    private Map<String, String> before;

    BenchWatch(Database database, Consumer<String> cut) {
        this.database = database;
        this.cut = cut;
    }

    void start() {
        before = database.read(Benches::passwordHashes);
        var unused =
                watch.scheduleWithFixedDelay(
                        this::look, PERIOD_MS, PERIOD_MS, TimeUnit.MILLISECONDS);
    }

    private void look() {
        try {
            Map<String, String> now = database.read(Benches::passwordHashes);
            for (Map.Entry<String, String> one : before.entrySet()) {
                if (!one.getValue().equals(now.get(one.getKey()))) {
                    LOG.info("bench {} has no or another password now: cut off", one.getKey());
                    cut.accept(one.getKey());
                }
            }
            before = new HashMap<>(now);
        } catch (RuntimeException e) {
            // An exception would end the watch; the next look compares with the same state again.
            LOG.warn("cannot look for benches that were shut out", e);
        }
    }

    @Override
    public void close() {
        watch.shutdownNow();
    }
}
