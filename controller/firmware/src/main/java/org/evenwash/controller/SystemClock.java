package org.evenwash.controller;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.concurrent.TimeUnit;
import org.evenwash.controller.port.Clock;

/**
 * The computer's own clocks.
 *
 * <p>Whether the wall clock can be trusted is asked of the system, not guessed from the date:
 * systemd's time service touches a file at each successful synchronisation, for other programs to
 * see (systemd-timesyncd.service(8), FILES). It asks its server at least every 34 minutes
 * (timesyncd.conf(5), PollIntervalMaxSec 2048), so a mark older than some hours means that it no
 * longer gets the time. The kernel's own flag (adjtimex) would need native code. A computer whose
 * time comes from another service has no such mark and counts as not synchronised, which errs on
 * the safe side: proof tests fall due, and records say so.
 */
final class SystemClock implements Clock {
    private static final Path SYNCHRONISED = Path.of("/run/systemd/timesync/synchronized");
    private static final Duration STILL_GOOD = Duration.ofHours(6);
    private static final long LOOK_EVERY_NS = TimeUnit.SECONDS.toNanos(5);

    private final long start_ns = System.nanoTime();
    private final Path mark;
    private long lookedAt_ns = -LOOK_EVERY_NS;
    private boolean synchronised;

    SystemClock() {
        this(SYNCHRONISED);
    }

    SystemClock(Path mark) {
        this.mark = mark;
    }

    @Override
    public long uptime_ns() {
        return System.nanoTime() - start_ns;
    }

    @Override
    public long wallClock_ms() {
        return System.currentTimeMillis();
    }

    /** Looked up every few seconds: a scan asks a hundred times a second. */
    @Override
    public synchronized boolean synchronised() {
        long now_ns = uptime_ns();
        if (now_ns - lookedAt_ns >= LOOK_EVERY_NS) {
            lookedAt_ns = now_ns;
            synchronised = marked();
        }
        return synchronised;
    }

    /** A mark from the future means that the clock went backward since. */
    private boolean marked() {
        try {
            long age_ms = wallClock_ms() - Files.getLastModifiedTime(mark).toMillis();
            return age_ms >= 0 && age_ms <= STILL_GOOD.toMillis();
        } catch (IOException e) {
            // No mark is the usual case before the network is up.
            return false;
        }
    }
}
