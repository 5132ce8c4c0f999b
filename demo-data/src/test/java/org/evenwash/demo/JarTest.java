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

    /** Variance of a gamma with mean m and shape k is m²/k. */
    @Test
    void coloniesAreClumped() {
        int n = 20_000;
        double sum = 0;
        double squares = 0;
        for (int i = 0; i < n; i++) {
            double rate = Jar.infestationOfAColony(2, 1, random);
            sum += rate;
            squares += rate * rate;
        }
        double mean = sum / n;
        assertThat(mean).isCloseTo(2, within(4 * 2 / Math.sqrt(n)));
        assertThat(squares / n - mean * mean).isCloseTo(4, within(0.5));
    }
}
