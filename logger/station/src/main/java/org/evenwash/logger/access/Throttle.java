package org.evenwash.logger.access;

import io.github.bucket4j.Bucket;
import io.github.bucket4j.TimeMeter;
import java.time.Clock;
import java.time.Duration;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.evenwash.logger.wash.Latest;

/** So many attempts for each key within a while, then as many anew. Of keys it keeps the latest only. */
final class Throttle {
    private static final int MOST_KEYS = 10_000;

    private final int attempts;
    private final Duration over;
    private final TimeMeter time;
    private final Map<String, Bucket> buckets = new Latest<>(MOST_KEYS);

    Throttle(int attempts, Duration over, Clock clock) {
        this.attempts = attempts;
        this.over = over;
        this.time = new Ticks(clock);
    }

    /** Takes one attempt; false if there is none left. */
    synchronized boolean take(String key) {
        return buckets.computeIfAbsent(key, this::full).tryConsume(1);
    }

    private Bucket full(String key) {
        return Bucket.builder()
                .addLimit(limit -> limit.capacity(attempts).refillIntervally(attempts, over))
                .withCustomTimePrecision(time)
                .build();
    }

    /**
     * The station's clock as time that passes: set back, it goes on from there, and only what passed up to
     * the next look is lost. Guarded by the throttle.
     */
    private static final class Ticks implements TimeMeter {
        private final Clock clock;
        private long seen_ms;
        private long passed_ms;

        Ticks(Clock clock) {
            this.clock = clock;
            seen_ms = clock.millis();
        }

        @Override
        public long currentTimeNanos() {
            long now_ms = clock.millis();
            passed_ms += Math.max(0, now_ms - seen_ms);
            seen_ms = now_ms;
            return TimeUnit.MILLISECONDS.toNanos(passed_ms);
        }

        @Override
        public boolean isWallClockBased() {
            return false;
        }
    }
}
