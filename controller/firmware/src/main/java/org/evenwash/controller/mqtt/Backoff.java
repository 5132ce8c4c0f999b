package org.evenwash.controller.mqtt;

import java.time.Duration;
import java.util.concurrent.ThreadLocalRandom;

/**
 * How long to wait before the next attempt: doubling from half a second to half a minute, and
 * anywhere between half and the whole of that, so that benches do not come back in step.
 */
final class Backoff {
    private static final long FIRST_MS = 500;
    private static final long LONGEST_MS = 30_000;

    /** A broker that is short of room lets a bench in and drops it at its first word: that is no line. */
    private static final Duration STEADY = Duration.ofSeconds(5);

    private long bound_ms = FIRST_MS;

    /**
     * @param held how long the line held that is to be made anew; zero if none came about
     */
    Duration next(Duration held) {
        if (held.compareTo(STEADY) >= 0) {
            bound_ms = FIRST_MS;
        }
        long length_ms = ThreadLocalRandom.current().nextLong(bound_ms / 2, bound_ms + 1);
        bound_ms = Math.min(2 * bound_ms, LONGEST_MS);
        return Duration.ofMillis(length_ms);
    }
}
