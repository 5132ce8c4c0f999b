package org.evenwash.controller.sim;

import java.time.Duration;
import java.time.Instant;
import org.evenwash.controller.port.Clock;

/** Time that passes when it is told to. */
public final class VirtualClock implements Clock {
    private long uptime_ns;
    private long wallClock_ms = Instant.parse("2026-01-10T08:00:00Z").toEpochMilli();
    private long rest_ns;
    private boolean synchronised = true;

    public void advance(long elapsed_ns) {
        uptime_ns += elapsed_ns;
        rest_ns += elapsed_ns;
        wallClock_ms += rest_ns / 1_000_000;
        rest_ns %= 1_000_000;
    }

    /** The wall clock is set; uptime does not notice. */
    public void jump(Duration by) {
        wallClock_ms += by.toMillis();
    }

    public void synchronised(boolean vouched) {
        synchronised = vouched;
    }

    @Override
    public long uptime_ns() {
        return uptime_ns;
    }

    @Override
    public long wallClock_ms() {
        return wallClock_ms;
    }

    @Override
    public boolean synchronised() {
        return synchronised;
    }
}
