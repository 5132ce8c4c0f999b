package org.evenwash.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class JarTest {
    private final SplittableRandom random = new SplittableRandom(7);

    @Test
    void firstWashAndEndlessSecond_addUpToAllTheMites() {
        Jar jar = Jar.sample(5, random);
        int first = jar.agitate(40, random);
        assertThat(first + jar.agitate(1e6, random)).isEqualTo(jar.mites());
        assertThat(jar.agitate(100, random)).isZero();
    }

    @Test
    void hundredSecondsTakeOff95Percent() {
        int off = 0;
        int all = 0;
        for (int i = 0; i < 2_000; i++) {
            Jar jar = Jar.sample(4, random);
            all += jar.mites();
            off += jar.agitate(100, random);
        }
        assertThat(off / (double) all).isCloseTo(0.95, within(4 * Math.sqrt(.95 * .05 / all)));
    }
}
