package org.evenwash.record;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.UUID;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class IdsTest {
    /** RFC 9562, 5.7: 48 bits of Unix time in ms, version 7, variant 10. */
    @Test
    void next_isOfVersionSeven_andBeginsWithTheTime() {
        long before_ms = System.currentTimeMillis();
        UUID id = Ids.next();
        long after_ms = System.currentTimeMillis();

        assertThat(id.version()).isEqualTo(7);
        assertThat(id.variant()).isEqualTo(2);
        assertThat(id.getMostSignificantBits() >>> 16).isBetween(before_ms, after_ms);
    }

    /** The text order is what a database's index goes by. */
    @Test
    void manyInARow_riseAsText() {
        var ids = IntStream.range(0, 1_000).mapToObj(i -> Ids.next()).toList();

        assertThat(ids.stream().map(UUID::toString).toList()).isSorted().doesNotHaveDuplicates();
    }

    /** The example of RFC 9562, A.6. */
    @Test
    void shown_isTheEndAndNotTheTime() {
        assertThat(Ids.shown(UUID.fromString("017f22e2-79b0-7cc3-98c4-dc0c0c07398f")))
                .isEqualTo("0c07398f");
    }
}
