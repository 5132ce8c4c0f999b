package org.evenwash.analysis.threshold;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.evenwash.analysis.threshold.MoreBees.NotToBeSettled;
import org.evenwash.analysis.threshold.MoreBees.Settled;
import org.evenwash.analysis.threshold.MoreBees.Wash;
import org.evenwash.analysis.threshold.Verdict.Call;
import org.hipparchus.distribution.continuous.GammaDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class MoreBeesTest {

    /** Garwood limits per 100 bees straight from the gamma quantiles. */
    private static double lower(int mites, double bees) {
        return mites == 0
                ? 0
                : 100 / bees * new GammaDistribution(mites, 1).inverseCumulativeProbability(0.025);
    }

    private static double upper(int mites, double bees) {
        return 100 / bees * new GammaDistribution(mites + 1, 1).inverseCumulativeProbability(0.975);
    }

    /** Sums Poisson terms and asks the interval itself at every count. */
    private static double bruteForce(int mites, int bees, double threshold, int more) {
        double mean = (double) mites / bees * more;
        boolean above = 100.0 * mites / bees > threshold;
        double sum = 0;
        double term = Math.exp(-mean);
        for (int extra = 0; extra < mean + 20 * Math.sqrt(mean) + 20; extra++) {
            double total = bees + more;
            boolean settled =
                    above
                            ? lower(mites + extra, total) > threshold
                            : upper(mites + extra, total) < threshold;
            sum += settled ? term : 0;
            term *= mean / (extra + 1);
        }
        return sum;
    }

    @ParameterizedTest
    @CsvSource({
        "9, 300, 2",
        "15, 300, 3",
        "6, 300, 3",
        "4, 300, 3",
        "12, 300, 2.5",
        "1, 150, 3",
        "13, 303, 3",
        "5, 312, 3.5"
    })
    void agreesWithBruteForceAtEveryStep(int mites, int bees, double threshold) {
        MoreBees plan = MoreBees.toSettle(mites, bees, threshold);
        assertThat(plan).isInstanceOf(Wash.class);
        Wash wash = (Wash) plan;
        assertThat(wash.probability())
                .isCloseTo(bruteForce(mites, bees, threshold, wash.bees()), within(1e-9));
        for (int fewer = 50; fewer < wash.bees(); fewer += 50) {
            assertThat(bruteForce(mites, bees, threshold, fewer)).isLessThan(0.8);
        }
        assertThat(wash.call())
                .isEqualTo(100.0 * mites / bees > threshold ? Call.ABOVE : Call.BELOW);
    }

    /** Seeded: wash that many more bees at the estimated rate, 20,000 times. */
    @Test
    void agreesWithSimulation() {
        Wash wash = (Wash) MoreBees.toSettle(15, 300, 3);
        long seed = 20_260_101;
        Random random = new Random(seed);
        int settled = 0;
        for (int i = 0; i < 20_000; i++) {
            int extra = poisson(0.05 * wash.bees(), random);
            settled += lower(15 + extra, 300.0 + wash.bees()) > 3 ? 1 : 0;
        }
        // Four standard errors of a share near 0.8 over 20,000 trials.
        assertThat(settled / 20_000.0)
                .as("seed %d", seed)
                .isCloseTo(wash.probability(), within(0.0114));
    }

    private static int poisson(double mean, Random random) {
        double left = mean;
        int count = -1;
        while (left >= 0) {
            left += Math.log(1 - random.nextDouble());
            count++;
        }
        return count;
    }

    /** 0 in 300: at most 1.23 per 100, so 3 is settled and 1 needs 369 bees without a mite. */
    @Test
    void zeroMites() {
        assertThat(MoreBees.toSettle(0, 300, 3)).isEqualTo(new Settled(Call.BELOW));
        assertThat(MoreBees.toSettle(0, 300, 1)).isEqualTo(new Wash(100, Call.BELOW, 1));
    }

    @Test
    void estimateOnTheThresholdIsNotToBeSettled() {
        assertThat(MoreBees.toSettle(9, 300, 3)).isInstanceOf(NotToBeSettled.class);
        assertThat(MoreBees.toSettle(9, 300, 3).words()).contains("not to be settled by bees");
    }

    @Test
    void settledExactlyWhenTheIntervalExcludesTheThreshold() {
        for (int mites = 0; mites <= 40; mites++) {
            boolean decided = lower(mites, 300) > 3 || upper(mites, 300) < 3;
            assertThat(MoreBees.toSettle(mites, 300, 3) instanceof Settled)
                    .as("%d mites", mites)
                    .isEqualTo(decided);
        }
    }

    /** 3 mites in 300 estimated bees: as counted they would lie below 3 (0.21–2.92), so count them. */
    @Test
    void estimatedBees_areToBeCountedFirst() {
        assertThat(MoreBees.toSettle(3, 300, true, 3).words())
                .isEqualTo(
                        "Count the bees of this wash: if they are about as many as estimated, that"
                                + " settles it (below).");
        MoreBees plan = MoreBees.toSettle(4, 300, true, 3);
        assertThat(plan).isEqualTo(new MoreBees.Count(MoreBees.toSettle(4, 300, 3)));
        assertThat(plan.words()).startsWith("Count the bees, ").contains("Wash about ");
        assertThat(MoreBees.toSettle(9, 300, true, 3)).isInstanceOf(NotToBeSettled.class);
        assertThat(MoreBees.toSettle(4, 300, false, 3)).isInstanceOf(Wash.class);
    }

    /** 3 mites lie below 1 per 100 from 876.73 bees on; 876.53 rounded would be called settled. */
    @Test
    void bees_areNotRounded() {
        double edge = 300 * upper(3, 300);
        assertThat(edge).isCloseTo(876.73, within(0.01));
        assertThat(MoreBees.toSettle(3, edge - 0.2, 1)).isInstanceOf(Wash.class);
        assertThat(MoreBees.toSettle(3, edge + 0.2, 1)).isInstanceOf(Settled.class);
    }

    @Test
    void wordsWarnOfRepeatedLooks() {
        assertThat(MoreBees.toSettle(15, 300, 3).words())
                .startsWith("Wash about ")
                .contains("before looking");
    }

    @Test
    void anyInputInRangeReturnsAndNonsenseIsRefused() {
        Random random = new Random(7);
        for (int i = 0; i < 2_000; i++) {
            int bees = 1 + random.nextInt(100_000);
            int mites = random.nextInt(1 + random.nextInt(50_000));
            double threshold = Math.exp(random.nextDouble() * 14 - 7);
            assertThat(MoreBees.toSettle(mites, bees, threshold)).isNotNull();
        }
        assertThatThrownBy(() -> MoreBees.toSettle(-1, 300, 3)).hasMessageContaining("-1 mites");
        assertThatThrownBy(() -> MoreBees.toSettle(1, 0, 3)).hasMessageContaining("0.0 bees");
        assertThatThrownBy(() -> MoreBees.toSettle(1, 300, Double.NaN))
                .isInstanceOf(IllegalArgumentException.class);
    }
}
