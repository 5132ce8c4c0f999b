package org.evenwash.controller;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import org.evenwash.controller.port.Clock;

/**
 * The computer's own clocks.
 *
 * <p>Whether the wall clock can be trusted is asked of the system, not guessed from the date: the
 * time service of systemd (timesyncd) makes the file {@code /run/systemd/timesync/synchronized}
 * when it first has the time from a server since boot, and chrony's packages make {@code
 * /run/chrony-wait} or stand behind the same file. The kernel's own flag (adjtimex) would need
 * native code; the file is made by the program that sets that flag. Without it the clock counts as
 * not synchronised, which errs on the safe side: proof tests fall due and records say so.
 */
final class SystemClock implements Clock {
    private static final Path SYNCHRONISED = Path.of("/run/systemd/timesync/synchronized");
    private static final long LOOK_EVERY_NS = TimeUnit.SECONDS.toNanos(5);

    private final long start_ns = System.nanoTime();
    private final Path mark;
    private long lookedAt_ns;
    private boolean synchronised;

    SystemClock() {
        this(SYNCHRONISED);
    }

    SystemClock(Path mark) {
        this.mark = mark;
        this.synchronised = Files.exists(mark);
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
    public boolean synchronised() {
        long now_ns = uptime_ns();
        if (now_ns - lookedAt_ns > LOOK_EVERY_NS) {
            lookedAt_ns = now_ns;
            synchronised = Files.exists(mark);
        }
        return synchronised;
    }
}
