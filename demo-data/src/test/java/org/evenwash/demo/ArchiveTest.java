package org.evenwash.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class ArchiveTest {
    private static final LocalDate FIRST = LocalDate.of(2026, 1, 1);
    private static final LocalDate LAST = LocalDate.of(2030, 12, 31);

    /** Mean n p and variance n p (1 - p) of the binomial distribution; common knowledge, no source. */
    @Test
    void drawnMites_haveTheMeanAndSpreadOfABinomial() {
        SplittableRandom random = new SplittableRandom(5);
        for (double share : new double[] {0.003, 0.04, 0.3, 0.93}) {
            int draws = 20_000;
            double sum = 0;
            double squares = 0;
            for (int i = 0; i < draws; i++) {
                int one = Draws.binomial(300, share, random);
                sum += one;
                squares += (double) one * one;
            }
            double mean = sum / draws;
            double variance = squares / draws - mean * mean;
            double expected = 300 * share * (1 - share);
            assertThat(mean).as("mean at %s", share).isCloseTo(300 * share, within(0.15));
            assertThat(variance)
                    .as("variance at %s", share)
                    .isCloseTo(expected, within(0.05 * expected));
        }
    }

    @Test
    void season_isTheSummerOfItsHalfOfTheEarth_andTreatmentsTakeMites() {
        MiteYears north = new MiteYears(false, FIRST, LAST, new SplittableRandom(1));
        MiteYears south = new MiteYears(true, FIRST, LAST, new SplittableRandom(1));

        assertThat(north.daysOfSeason())
                .contains(LocalDate.of(2028, 7, 1))
                .doesNotContain(LocalDate.of(2028, 1, 1));
        assertThat(south.daysOfSeason())
                .contains(LocalDate.of(2028, 1, 1))
                .doesNotContain(LocalDate.of(2028, 7, 1));
        assertThat(north.treatments()).hasSize(10);
        for (MiteYears.Treatment one : north.treatments()) {
            assertThat(north.on(one.day())).isLessThan(north.on(one.day().minusDays(1)));
        }
        assertThat(north.on(LocalDate.of(2028, 7, 30)))
                .isGreaterThan(north.on(LocalDate.of(2028, 4, 2)));
    }
}
