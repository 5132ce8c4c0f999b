package org.evenwash.analysis;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.function.Function;
import org.evenwash.analysis.agitation.AgitationTime;
import org.evenwash.analysis.agitation.ConditionalFit;
import org.evenwash.analysis.agitation.ExponentialFit;
import org.evenwash.analysis.agitation.SaturatingFit;
import org.evenwash.analysis.agitation.TimeToShare;
import org.evenwash.analysis.agitation.TimedWash;
import org.evenwash.analysis.agitation.WeibullFit;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.operators.Funnel;
import org.evenwash.analysis.operators.OperatorComparison;
import org.evenwash.analysis.operators.OperatorWash;
import org.evenwash.analysis.operators.WashPermutation;
import org.evenwash.analysis.trend.GrowthFit;
import org.evenwash.analysis.trend.Sample;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * How often the recommended intervals hold the truth, by seeded simulation. The figures to reach are
 * the lowest that the same methods reached in R 4.2.2 over similar scenarios, less three Monte-Carlo
 * standard errors; the time to 95 % is 60 s throughout. Data sets without a finite fit are left out,
 * as they are refused, and counted.
 */
@Tag("coverage")
class FitCoverageTest {

    private static final long SEED = 77_003;
    private static final int RUNS = 2_000;
    private static final double T95 = 60;
    private static final double RATE = Math.log(20) / T95;

    private static final double[] EARLY = {0.25, 0.5};
    private static final double[] SPREAD = {0.15, 0.3, 0.6, 1};
    private static final double[] LATE = {0.5, 1, 1.5, 2};

    private interface Share {
        double after(double seconds);
    }

    @Test
    void oneRate_scaledProfile() {
        Tally tally = new Tally("one rate, time to 95 %", 0.906, 0.945);
        for (double rho : new double[] {0, 0.05}) {
            for (int mites : new int[] {10, 30}) {
                for (int size : new int[] {8, 12, 24}) {
                    for (double[] times : new double[][] {EARLY, SPREAD}) {
                        Random random = new Random(SEED);
                        tally.scenario(
                                size + " washes of " + mites + ", rho " + rho,
                                () ->
                                        ExponentialFit.fit(
                                                        washes(
                                                                random,
                                                                times,
                                                                size,
                                                                mites,
                                                                rho,
                                                                Truth.ONE_RATE),
                                                        0.95)
                                                .map(fit -> holds(fit.time(), T95)));
                    }
                }
            }
        }
        tally.check();
    }

    @Test
    void changingRate_scaledProfile() {
        Tally tally = new Tally("changing rate, time to 95 %", 0.89, 0.94);
        for (double rho : new double[] {0, 0.05}) {
            for (double[] times : new double[][] {SPREAD, LATE}) {
                for (int size : new int[] {12, 24, 48}) {
                    Random random = new Random(SEED);
                    tally.scenario(
                            size + " washes of 30, rho " + rho,
                            () ->
                                    WeibullFit.fit(
                                                    washes(
                                                            random,
                                                            times,
                                                            size,
                                                            30,
                                                            rho,
                                                            Truth.ONE_RATE),
                                                    0.95)
                                            .flatMap(WeibullFit::timeToShare)
                                            .map(time -> holds(time, T95)));
                }
            }
        }
        tally.check();
    }

    @Test
    void plateau_profileWithoutOverdispersion() {
        Tally tally = new Tally("plateau of 95 %, time to 80 %", 0.933, 0.94);
        double truth = -Math.log1p(-0.8 / 0.95) / RATE;
        for (int size : new int[] {24, 48}) {
            Random random = new Random(SEED);
            double[] times = {0.15, 0.3, 0.6, 1, 1.5, 2};
            tally.scenario(
                    size + " washes of 20",
                    () ->
                            SaturatingFit.fit(
                                            washes(random, times, size, 20, 0, Truth.PLATEAU), 0.8)
                                    .map(fit -> holds(fit.time(), truth)));
        }
        tally.check();
    }

    @Test
    void sameMethodSecondWash_conditional() {
        Tally tally = new Tally("conditional on a second wash by the same method", 0.948, 0.948);
        sameMethod(tally, 0);
    }

    /** With the cut-off left at χ²₁ the same scenarios gave 0.78 to 0.83 and 0.67 to 0.72 in R 4.2.2. */
    @Test
    void sameMethodSecondWash_conditional_washesThatDiffer() {
        for (double rho : new double[] {0.05, 0.1}) {
            sameMethod(new Tally("the same, rho " + rho, 0.93, 0.94), rho);
        }
    }

    private static void sameMethod(Tally tally, double rho) {
        double[] times = {1 / 6.0, 1 / 3.0, 2 / 3.0, 1};
        for (double second : new double[] {30, 60, 120}) {
            Random random = new Random(SEED);
            tally.scenario(
                    "24 washes of 30, second wash " + second + " s",
                    () -> {
                        List<TimedWash> washes = new ArrayList<>();
                        for (TimedWash wash : washes(random, times, 24, 30, rho, Truth.ONE_RATE)) {
                            int off =
                                    binomial(
                                            random,
                                            wash.secondWashMites(),
                                            -Math.expm1(-RATE * second));
                            washes.add(
                                    new TimedWash(
                                            wash.agitationS(),
                                            wash.firstWashMites(),
                                            off,
                                            OptionalDouble.of(second)));
                        }
                        return ConditionalFit.fit(washes, 0.95).map(fit -> holds(fit.time(), T95));
                    });
        }
        tally.check();
    }

    /**
     * No mite left in any second wash, summed exactly: the bound lies below the true time in at most
     * one study in 40, where the likelihood-ratio cut of χ²₁/2 allowed one in seven.
     */
    @Test
    void noMitesLeft_boundedTime() {
        double worst = 0;
        for (int mites = 1; mites <= 400; mites++) {
            for (double at : new double[] {0.25, 0.5, 0.75, 1, 1.25, 1.5, 2}) {
                var washes = List.of(new TimedWash(at * T95, mites, 0));
                var bound = (Result.Bound) AgitationTime.exhaustive(washes, 0.95).result();
                double chance = Math.pow(-Math.expm1(-RATE * at * T95), mites);
                worst = bound.limit() < T95 ? Math.max(worst, chance) : worst;
            }
        }
        System.out.printf(Locale.ROOT, "no mites left, time too short: at most %.4f%n", worst);
        assertThat(worst).isBetween(0.02, 0.025);
    }

    @Test
    void growth_scaledProfile() {
        growth("growth a week", 0, 0.957, fit -> holds(fit.slopeLimits(), Math.log(1.1)));
        growth("growth a week", 0.2, 0.906, fit -> holds(fit.slopeLimits(), Math.log(1.1)));
    }

    /** Where the slope is not shown the crossing's set is unbounded, and holds the truth. */
    @Test
    void crossing_fieller() {
        for (double scatter : new double[] {0, 0.2}) {
            growth(
                    "week of crossing 3 per 100",
                    scatter,
                    0.912,
                    fit ->
                            fit.crossingLimits(3)
                                    .map(limits -> holds(limits, Math.log(3 / 1.5) / Math.log(1.1)))
                                    .orElse(true));
        }
    }

    private static void growth(
            String what, double scatter, double lowest, Function<GrowthFit, Boolean> holds) {
        Tally tally = new Tally(what + ", scatter " + scatter, lowest, lowest);
        for (int dates : new int[] {5, 8, 12}) {
            Random random = new Random(SEED);
            tally.scenario(
                    dates + " dates",
                    () -> {
                        List<Sample> samples = new ArrayList<>();
                        for (int i = 0; i < dates; i++) {
                            double mean = 300 * 0.015 * Math.pow(1.1, 2 * i);
                            double spread = scatter > 0 ? scatter * gamma(random, 1 / scatter) : 1;
                            samples.add(new Sample(2 * i, poisson(random, mean * spread), 300));
                        }
                        return GrowthFit.of(samples).map(holds);
                    });
        }
        tally.check();
    }

    /** False alarms at 5 %: at most .057 in R whatever the scatter between washes. */
    @Test
    void permutation_keepsItsFalseAlarms() {
        Tally tally = new Tally("no false alarm at 5 %", 0.943, 0.943);
        for (double rho : new double[] {0, 0.05, 0.1}) {
            Random random = new Random(SEED);
            tally.scenario(
                    "3 operators, 5 washes of 20, rho " + rho,
                    () -> {
                        List<OperatorWash> washes = new ArrayList<>();
                        for (int i = 0; i < 15; i++) {
                            int first = betaBinomial(random, 20, 0.85, rho);
                            washes.add(new OperatorWash("operator " + i % 3, first, 20 - first));
                        }
                        return WashPermutation.test(washes, 399, random.nextLong())
                                .map(test -> test.p() > 0.05);
                    });
        }
        tally.check();
    }

    /**
     * Two recipes of 90 and 65 %, two operators of four washing mostly by each: the SD between operators
     * (R 4.2.2, 1,000 runs: 0.958), and the one in twenty whom chance alone may put outside.
     */
    @Test
    void operatorsOverTwoRecipes_spreadAndPlaces() {
        Tally spread = new Tally("SD between operators, two recipes", 0.94, 0.94);
        Tally places = new Tally("inside the inner limits, two recipes", 0.94, 0.94);
        Random random = new Random(SEED);
        spread.scenario("true SD 0.05", () -> Optional.of(spreadHolds(mixed(random, 0.05), 0.05)));
        places.scenario(
                "no difference",
                () ->
                        Optional.of(
                                mixed(random, 0).funnel().get(random.nextInt(4)).place()
                                        == Funnel.Place.INSIDE));
        spread.check();
        places.check();
    }

    private static boolean spreadHolds(OperatorComparison found, double truth) {
        if (found.spread() instanceof Result.Estimate e) {
            return e.lower() <= truth && truth <= e.upper();
        }
        return found.spread() instanceof Result.Bound b && truth <= b.limit();
    }

    private static OperatorComparison mixed(Random random, double sd) {
        List<OperatorWash> washes = new ArrayList<>();
        for (int operator = 0; operator < 4; operator++) {
            double own = sd * random.nextGaussian();
            for (int i = 0; i < 12; i++) {
                boolean strong = i < 10 == operator < 2;
                double share = Math.max(0, Math.min(1, (strong ? 0.9 : 0.65) + own));
                int first = binomial(random, 20, share);
                var recipe = new OperatorWash.Conditions(strong ? "strong" : "weak", "", "");
                washes.add(new OperatorWash("operator " + operator, recipe, first, 20 - first));
            }
        }
        return OperatorComparison.of(washes, 1);
    }

    private static final class Truth {
        static final Share ONE_RATE = t -> -Math.expm1(-RATE * t);
        static final Share PLATEAU = t -> -0.95 * Math.expm1(-RATE * t);
    }

    private static List<TimedWash> washes(
            Random random, double[] times, int size, int mites, double rho, Share share) {
        List<TimedWash> washes = new ArrayList<>();
        for (int i = 0; i < size; i++) {
            double t = T95 * times[i % times.length];
            int first = betaBinomial(random, mites, share.after(t), rho);
            washes.add(new TimedWash(t, first, mites - first));
        }
        return washes;
    }

    private static boolean holds(TimeToShare time, double truth) {
        return time.lower() <= truth && truth <= time.upper();
    }

    private static boolean holds(Limits limits, double truth) {
        return limits.lower() <= truth && truth <= limits.upper();
    }

    private static int betaBinomial(Random random, int n, double p, double rho) {
        if (rho == 0) {
            return binomial(random, n, p);
        }
        double size = 1 / rho - 1;
        double a = gamma(random, p * size);
        return binomial(random, n, a / (a + gamma(random, (1 - p) * size)));
    }

    private static int binomial(Random random, int n, double p) {
        int hits = 0;
        for (int i = 0; i < n; i++) {
            hits += random.nextDouble() < p ? 1 : 0;
        }
        return hits;
    }

    private static int poisson(Random random, double mean) {
        int count = -1;
        for (double left = mean; left >= 0; left += Math.log(1 - random.nextDouble())) {
            count++;
        }
        return count;
    }

    /** Marsaglia and Tsang 2000, ACM Trans. Math. Softw. 26:363–372. */
    private static double gamma(Random random, double shape) {
        if (shape < 1) {
            return gamma(random, shape + 1) * Math.pow(1 - random.nextDouble(), 1 / shape);
        }
        double d = shape - 1.0 / 3;
        double c = 1 / Math.sqrt(9 * d);
        while (true) {
            double x = random.nextGaussian();
            double v = Math.pow(1 + c * x, 3);
            if (v > 0
                    && Math.log(1 - random.nextDouble())
                            < x * x / 2 + d - d * v + d * Math.log(v)) {
                return d * v;
            }
        }
    }

    private interface Run {
        Optional<Boolean> held();
    }

    /** Coverage over scenarios, printed, and compared with the lowest and the mean to reach. */
    private static final class Tally {
        private final String what;
        private final double lowest;
        private final double mean;
        private final List<Double> coverages = new ArrayList<>();
        private final List<Double> errors = new ArrayList<>();

        Tally(String what, double lowest, double mean) {
            this.what = what;
            this.lowest = lowest;
            this.mean = mean;
        }

        void scenario(String name, Run run) {
            int held = 0;
            int fitted = 0;
            for (int i = 0; i < RUNS; i++) {
                Optional<Boolean> one = run.held();
                fitted += one.isPresent() ? 1 : 0;
                held += one.orElse(false) ? 1 : 0;
            }
            double coverage = (double) held / fitted;
            coverages.add(coverage);
            errors.add(Math.sqrt(lowest * (1 - lowest) / fitted));
            System.out.printf(
                    Locale.ROOT,
                    "%s; %s: %.3f (%d of %d data sets fitted)%n",
                    what,
                    name,
                    coverage,
                    fitted,
                    RUNS);
        }

        void check() {
            for (int i = 0; i < coverages.size(); i++) {
                assertThat(coverages.get(i))
                        .as(what + ", scenario " + (i + 1))
                        .isGreaterThanOrEqualTo(lowest - 3 * errors.get(i));
            }
            double average = coverages.stream().mapToDouble(c -> c).average().orElseThrow();
            double error = errors.get(0) / Math.sqrt(errors.size());
            System.out.printf(Locale.ROOT, "%s: mean %.3f%n", what, average);
            assertThat(average).as(what + ", mean").isGreaterThanOrEqualTo(mean - 3 * error);
        }
    }
}
