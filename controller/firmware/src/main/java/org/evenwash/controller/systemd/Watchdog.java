package org.evenwash.controller.systemd;

import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.function.LongSupplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Feeds the service manager's watchdog, from a thread of its own, for as long as scans are really made; when the scan hangs it
 * is silent, and the manager ends the program and starts it again (systemd.service(5), WatchdogSec). This brings a bench back.
 * What cuts the motor long before is the one-shot that misses the heartbeat.
 */
public final class Watchdog implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(Watchdog.class);

    /** Soon enough for READY=1 not to delay a start by much. */
    private static final long LONGEST_PERIOD_MS = 1_000;

    private static final long FIRST_LOOK_MS = 50;

    private final LongSupplier scans;
    private final Consumer<String> manager;
    private final ScheduledExecutorService thread =
            Executors.newSingleThreadScheduledExecutor(
                    work -> {
                        Thread thread = new Thread(work, "watchdog");
                        thread.setDaemon(true);
                        return thread;
                    });
    private long seen;
    private boolean ready;

    /**
     * @param scans made so far; from any thread
     * @param manager takes a message of sd_notify(3)
     */
    Watchdog(LongSupplier scans, Consumer<String> manager) {
        this.scans = scans;
        this.manager = manager;
    }

    /** Starts one if a service manager asked for it, as systemd does by two variables; else there is nobody to tell. */
    public static Optional<Watchdog> start(Map<String, String> environment, LongSupplier scans) {
        String socket = environment.get("NOTIFY_SOCKET");
        if (socket == null || socket.isBlank()) {
            return Optional.empty();
        }
        Watchdog watchdog = new Watchdog(scans, new NotifySocket(socket)::say);
        watchdog.every(period_ms(environment.get("WATCHDOG_USEC")));
        return Optional.of(watchdog);
    }

    /** Four times in the time allowed: one look that comes late does no harm. */
    static long period_ms(String watchdog_us) {
        if (watchdog_us == null || !watchdog_us.matches("\\d{1,15}")) {
            return LONGEST_PERIOD_MS;
        }
        long quarter_ms = TimeUnit.MICROSECONDS.toMillis(Long.parseLong(watchdog_us)) / 4;
        return Math.max(1, Math.min(LONGEST_PERIOD_MS, quarter_ms));
    }

    private void every(long period_ms) {
        var unused =
                thread.scheduleWithFixedDelay(
                        this::lookSafely, FIRST_LOOK_MS, period_ms, TimeUnit.MILLISECONDS);
    }

    private void lookSafely() {
        try {
            look();
        } catch (RuntimeException | LinkageError e) {
            // Without a word systemd will restart the program, so this is said; the next look tries
            // again.
            LOG.error("The service manager cannot be told that the bench runs.", e);
        }
    }

    /** One look: a message if a scan was made since the last one, silence otherwise. */
    void look() {
        long now = scans.getAsLong();
        if (now == seen) {
            return;
        }
        manager.accept(ready ? "WATCHDOG=1" : "READY=1\nWATCHDOG=1");
        ready = true;
        seen = now;
    }

    @Override
    public void close() {
        thread.shutdownNow();
    }
}
