package org.evenwash.controller.process;

import java.time.Duration;

/**
 * When the stop chain was last proven.
 *
 * @param passed false when it never was
 * @param at_ms milliseconds since 1970 UTC
 * @param clockSynchronised whether {@code at_ms} can be believed
 * @param uptime_ns uptime of the test when it was in this boot; -1 when it was in an earlier one
 * @param cyclesSince started since then
 */
public record ProofRecord(
        boolean passed, long at_ms, boolean clockSynchronised, long uptime_ns, int cyclesSince) {

    public static final ProofRecord NEVER = new ProofRecord(false, 0, false, -1, 0);

    /** A test of an earlier boot, as the outbox remembers it. */
    public static ProofRecord earlier(long at_ms, boolean clockSynchronised, int cyclesSince) {
        return new ProofRecord(true, at_ms, clockSynchronised, -1, cyclesSince);
    }

    boolean due(Settings settings, Inputs in) {
        if (!passed || cyclesSince >= settings.safety().proofTestEvery_cycles()) {
            return true;
        }
        long days_ns = settings.safety().proofTestEvery().toNanos();
        if (uptime_ns >= 0) {
            return in.uptime_ns() - uptime_ns > days_ns;
        }
        long age_ms = in.wallClock_ms() - at_ms;
        boolean believable = clockSynchronised && in.clockSynchronised() && age_ms >= 0;
        return !believable || age_ms > Duration.ofNanos(days_ns).toMillis();
    }

    ProofRecord cycleStarted() {
        return new ProofRecord(passed, at_ms, clockSynchronised, uptime_ns, cyclesSince + 1);
    }

    static ProofRecord passedNow(Inputs in) {
        return new ProofRecord(true, in.wallClock_ms(), in.clockSynchronised(), in.uptime_ns(), 0);
    }
}
