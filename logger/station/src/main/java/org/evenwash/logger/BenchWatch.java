package org.evenwash.logger;

import java.util.HashMap;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import org.evenwash.logger.broker.Broker;
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
    private final Broker broker;
    private final ScheduledExecutorService watch =
            Executors.newSingleThreadScheduledExecutor(
                    work -> {
                        Thread thread = new Thread(work, "bench-watch");
                        thread.setDaemon(true);
                        return thread;
                    });
    private Map<String, String> before;
    private Set<String> changed = Set.of();

    BenchWatch(Database database, Broker broker) {
        this.database = database;
        this.broker = broker;
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
            Set<String> out = new TreeSet<>(broker.connectedBenches());
            // Admitted and revoked again between two looks: in neither of them.
            out.removeAll(now.keySet());
            Set<String> fresh = new TreeSet<>();
            before.forEach(
                    (bench, hash) -> {
                        if (!hash.equals(now.get(bench))) {
                            fresh.add(bench);
                        }
                    });
            out.addAll(fresh);
            // Whoever was signing in with the old one just then counts as connected by now.
            out.addAll(changed);
            for (String bench : out) {
                if (broker.cut(bench)) {
                    LOG.info("bench {} has no or another password now: cut off", bench);
                }
            }
            before = new HashMap<>(now);
            changed = fresh;
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
