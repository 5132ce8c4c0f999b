package org.evenwash.controller.mqtt;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import org.junit.jupiter.api.Test;

class BackoffTest {
    private static final Duration NONE = Duration.ZERO;
    private final Backoff backoff = new Backoff();

    @Test
    void wait_doublesUpToHalfAMinute() {
        for (long bound_ms : new long[] {500, 1_000, 2_000, 4_000, 8_000, 16_000, 30_000, 30_000}) {
            assertThat(backoff.next(NONE).toMillis()).isBetween(bound_ms / 2, bound_ms);
        }
    }

    @Test
    void lineThatHeldForAWhile_isSoughtAgainAtOnce() {
        backoff.next(NONE);
        backoff.next(NONE);
        assertThat(backoff.next(Duration.ofSeconds(5)).toMillis()).isBetween(250L, 500L);
    }

    @Test
    void lineThatIsDroppedAtItsFirstWord_isSoughtLessAndLess() {
        for (int attempt = 1; attempt <= 6; attempt++) {
            backoff.next(Duration.ofMillis(300));
        }
        assertThat(backoff.next(Duration.ofMillis(300)).toMillis()).isBetween(15_000L, 30_000L);
    }
}
