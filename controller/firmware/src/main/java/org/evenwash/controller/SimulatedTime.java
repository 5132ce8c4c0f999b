package org.evenwash.controller;

import java.time.Duration;
import java.time.Instant;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import java.util.function.BooleanSupplier;
import org.evenwash.controller.port.Clock;

/**
 * Time of a simulated bench. Each scan is one period after the one before, so that a faster pace
 * leaves no scan out and a busy computer makes none late; between scans the thread waits until real
 * time has gone on by the same amount divided by the speed. Storing a record takes real time,
 * whatever the pace: the clock stands while the outbox is behind.
 */
final class SimulatedTime implements Clock, ControlLoop.Pace {
    /** Behind for longer than this, the machine shall notice. */
    private static final long PATIENCE_NS = TimeUnit.SECONDS.toNanos(5);

    private static final long POLL_NS = TimeUnit.MILLISECONDS.toNanos(2);

    /** A fast pace takes several scans at once, so that many benches do not wear out one computer. */
    private static final long SHORTEST_WAIT_NS = TimeUnit.MILLISECONDS.toNanos(15);

    private volatile double speed;
    private final Instant startAt;
    private final BooleanSupplier outboxBehind;
    private long uptime_ns;
    private long stepped_ms;
    private long real_ns = System.nanoTime();

    /**
     * @param speed 1 for real time, N for N times as fast
     * @param startAt what the wall clock shows at uptime zero
     */
    SimulatedTime(double speed, Instant startAt, BooleanSupplier outboxBehind) {
        this.speed = speed;
        this.startAt = startAt;
        this.outboxBehind = outboxBehind;
    }

    @Override
    public synchronized long uptime_ns() {
        return uptime_ns;
    }

    @Override
    public synchronized long wallClock_ms() {
        return startAt.toEpochMilli() + TimeUnit.NANOSECONDS.toMillis(uptime_ns) + stepped_ms;
    }

    /** From now on {@code speed} times as fast as real time. */
    void pace(double newSpeed) {
        speed = newSpeed;
    }

    /** Steps the wall clock, as a time service or a person may; uptime goes on as before. */
    synchronized void step(Duration by) {
        stepped_ms += by.toMillis();
    }

    /** It is the only clock there is. */
    @Override
    public boolean synchronised() {
        return true;
    }

    @Override
    public void await(long now_ns, long deadline_ns) {
        waitForOutbox();
        real_ns += (long) ((deadline_ns - now_ns) / speed);
        long ahead_ns = real_ns - System.nanoTime();
        if (ahead_ns > SHORTEST_WAIT_NS) {
            LockSupport.parkNanos(ahead_ns);
        } else if (-ahead_ns > PATIENCE_NS) {
            // Too fast for this computer: what is lost is not made up for.
            real_ns = System.nanoTime();
        }
        synchronized (this) {
            uptime_ns = deadline_ns;
        }
    }

    private void waitForOutbox() {
        long start_ns = System.nanoTime();
        while (outboxBehind.getAsBoolean() && System.nanoTime() - start_ns < PATIENCE_NS) {
            LockSupport.parkNanos(POLL_NS);
        }
    }
}
