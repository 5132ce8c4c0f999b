package org.evenwash.analysis;

import static org.assertj.core.api.Assertions.assertThat;

import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Random;
import org.evenwash.analysis.agitation.AgitationTime;
import org.evenwash.analysis.agitation.ConditionalFit;
import org.evenwash.analysis.agitation.ExponentialFit;
import org.evenwash.analysis.agitation.FitQuality;
import org.evenwash.analysis.agitation.ModelChoice;
import org.evenwash.analysis.agitation.ReleaseCurve;
import org.evenwash.analysis.agitation.SaturatingFit;
import org.evenwash.analysis.agitation.TimeToShare;
import org.evenwash.analysis.agitation.TimedWash;
import org.evenwash.analysis.agitation.WeibullFit;
import org.evenwash.analysis.fit.BinomialRegression;
import org.evenwash.analysis.fit.Link;
import org.evenwash.analysis.fit.SaturatingCurve;
import org.evenwash.analysis.operators.ChartReading;
import org.evenwash.analysis.operators.GaugeVerdict;
import org.evenwash.analysis.operators.OneWayPrecision;
import org.evenwash.analysis.operators.OperatorComparison;
import org.evenwash.analysis.operators.OperatorTotals;
import org.evenwash.analysis.operators.OperatorWash;
import org.evenwash.analysis.operators.RecountStudy;
import org.evenwash.analysis.operators.RecountStudy.Recount;
import org.evenwash.analysis.operators.WashPermutation;
import org.evenwash.analysis.trend.ColonyTrend;
import org.evenwash.analysis.trend.GrowthFit;
import org.evenwash.analysis.trend.Sample;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * Seeded random data in range, the ugly kind preferred: nothing throws, no figure is NaN, every
 * estimate lies within its limits. 20,000 data sets with {@code mvn -Pfuzz}, each through one
 * analysis; one per cent of that otherwise. A failure names its seed.
 */
@Tag("fuzz")
class FitFuzzTest {

    private static final long SEED = 4_711;
    private static final int FULL_SIZE = 20_000;
    private static final int DATA_SETS =
            FULL_SIZE * Integer.getInteger("evenwash.fuzz.percent", 1) / 100;

    /** Of the processor's time: what else the machine does is no fault of the fit. */
    private static final Duration SLOWEST = Duration.ofSeconds(5);

    private static final ThreadMXBean CPU = ManagementFactory.getThreadMXBean();
    private static final int DEALS = 99;

    private interface Trial {
        void run(Random random);
    }

    private static final List<Trial> TRIALS =
            List.of(
                    FitFuzzTest::agitation,
                    FitFuzzTest::agitation,
                    FitFuzzTest::sameMethod,
                    FitFuzzTest::regression,
                    FitFuzzTest::curve,
                    FitFuzzTest::permutation,
                    FitFuzzTest::permutation,
                    FitFuzzTest::recounts,
                    FitFuzzTest::charts,
                    FitFuzzTest::trend);

    @Test
    void anyDataInRange_givesAnAnswer() {
        long slowest = 0;
        List<String> failures = new ArrayList<>();
        for (int i = 0; i < DATA_SETS; i++) {
            long seed = SEED + i;
            long before = CPU.getCurrentThreadCpuTime();
            int trial = i % TRIALS.size();
            try {
                TRIALS.get(trial).run(new Random(seed));
            } catch (RuntimeException | AssertionError broken) {
                failures.add("trial " + trial + ", seed " + seed + ": " + broken);
            }
            slowest = Math.max(slowest, CPU.getCurrentThreadCpuTime() - before);
        }
        System.out.println(
                DATA_SETS + " fits and permutations, slowest " + slowest / 1_000_000 + " ms");
        assertThat(failures).isEmpty();
        assertThat(Duration.ofNanos(slowest)).as("slowest data set").isLessThan(SLOWEST);
    }

    /** Small, zero, huge: each kind of count is drawn for a whole data set or count by count. */
    private static int count(Random random, int kind) {
        return switch (kind) {
            case 0 -> 0;
            case 1 -> random.nextInt(4);
            case 2 -> random.nextInt(60);
            case 3 -> random.nextInt(1_000_000_000);
            default -> count(random, random.nextInt(4));
        };
    }

    private static int rows(Random random) {
        return random.nextInt(4) == 0 ? random.nextInt(3) : 1 + random.nextInt(30);
    }

    private static double time(Random random, int kind) {
        return switch (kind) {
            case 0 -> 60;
            case 1 -> 15 * (1 + random.nextInt(8));
            case 2 -> 0.001 * Math.pow(10, 10 * random.nextDouble());
            default -> 1 + 600 * random.nextDouble();
        };
    }

    private static List<TimedWash> washes(Random random, boolean secondTimes) {
        int rows = rows(random);
        int first = random.nextInt(6);
        int second = random.nextInt(6);
        int times = random.nextInt(4);
        List<TimedWash> washes = new ArrayList<>();
        for (int i = 0; i < rows; i++) {
            OptionalDouble t2 =
                    secondTimes ? OptionalDouble.of(time(random, times)) : OptionalDouble.empty();
            washes.add(
                    new TimedWash(
                            time(random, times), count(random, first), count(random, second), t2));
        }
        if (rows > 0 && random.nextInt(10) == 0) {
            washes.replaceAll(wash -> washes.get(0));
        }
        return washes;
    }

    private static double share(Random random) {
        double[] usual = {0.5, 0.9, 0.95, 0.99, 1e-6, 1 - 1e-6};
        return usual[random.nextInt(usual.length)];
    }

    private static void agitation(Random random) {
        List<TimedWash> washes = washes(random, false);
        double share = share(random);
        AgitationTime.Report report = AgitationTime.exhaustive(washes, share);
        check(report.result());
        ExponentialFit.fit(washes, share)
                .ifPresent(fit -> check(fit.quality(), fit.time(), fit.k()));
        SaturatingFit.fit(washes, share)
                .ifPresent(fit -> check(fit.quality(), fit.time(), fit.a(), fit.k()));
        WeibullFit.fit(washes, share)
                .ifPresent(
                        fit -> {
                            check(fit.quality(), null, fit.line().b0(), fit.line().b1());
                            fit.timeToShare().ifPresent(time -> check(fit.quality(), time));
                        });
        report.choice()
                .ifPresent(
                        choice -> {
                            for (ModelChoice.Candidate candidate : choice.candidates()) {
                                double[] at = {1, 30, 300};
                                ReleaseCurve.of(washes, candidate.fit(), at)
                                        .forEach(
                                                p ->
                                                        assertThat(p.share())
                                                                .isBetween(
                                                                        p.lower() - 1e-9,
                                                                        p.upper() + 1e-9));
                            }
                        });
    }

    private static void sameMethod(Random random) {
        List<TimedWash> washes = washes(random, true);
        double share = share(random);
        check(AgitationTime.sameMethod(washes, share).result());
        ConditionalFit.fit(washes, share)
                .ifPresent(fit -> check(fit.quality(), fit.time(), fit.k()));
    }

    private static void check(FitQuality quality, TimeToShare time, double... parameters) {
        finite(quality.loglik(), quality.deviance(), quality.aic(), quality.x2(), quality.cutoff());
        assertThat(quality.phi()).isGreaterThanOrEqualTo(1);
        finite(parameters);
        if (time != null) {
            assertThat(time.seconds()).isNotNaN();
            assertThat(time.lower()).isLessThanOrEqualTo(time.seconds() * (1 + 1e-9));
            assertThat(time.upper()).isGreaterThanOrEqualTo(time.seconds() * (1 - 1e-9));
        }
    }

    private static void regression(Random random) {
        int rows = rows(random);
        int kind = random.nextInt(6);
        double[] dose = new double[rows];
        double[] hits = new double[rows];
        double[] misses = new double[rows];
        for (int i = 0; i < rows; i++) {
            dose[i] = random.nextInt(3) == 0 ? random.nextInt(5) : 1000 * random.nextGaussian();
            hits[i] = count(random, kind);
            misses[i] = count(random, random.nextInt(5));
        }
        for (Link link : Link.values()) {
            BinomialRegression.fit(link, dose, hits, misses)
                    .ifPresent(
                            f -> {
                                finite(f.b0(), f.b1(), f.seB0(), f.seB1(), f.covariance());
                                finite(f.deviance(), f.pearson(), f.loglik());
                                assertThat(f.medianDose()).isNotNaN();
                            });
        }
    }

    private static void curve(Random random) {
        int rows = rows(random);
        double[] x = new double[rows];
        double[] y = new double[rows];
        for (int i = 0; i < rows; i++) {
            x[i] = time(random, random.nextInt(4));
            y[i] = count(random, random.nextInt(5));
        }
        double start = random.nextGaussian() * Math.pow(10, random.nextInt(7) - 5);
        SaturatingCurve.fit(x, y, start)
                .ifPresent(f -> finite(f.b1(), f.b2(), f.seB1(), f.seB2(), f.rss(), f.sigma()));
    }

    private static void permutation(Random random) {
        int rows = rows(random);
        int kind = random.nextInt(6);
        int operators = 1 + random.nextInt(6);
        int conditions = 1 + random.nextInt(3);
        List<OperatorWash> washes = new ArrayList<>();
        for (int i = 0; i < rows; i++) {
            washes.add(
                    new OperatorWash(
                            "operator " + random.nextInt(operators),
                            new OperatorWash.Conditions("r", "b", "d" + random.nextInt(conditions)),
                            count(random, kind),
                            count(random, random.nextInt(5))));
        }
        WashPermutation.test(washes, DEALS, random.nextLong())
                .ifPresent(
                        test -> {
                            finite(test.statistic());
                            assertThat(test.p()).isBetween(1.0 / (1 + DEALS), 1.0);
                        });
        var totals = new OperatorTotals(washes);
        totals.quasiF().ifPresent(f -> finite(f.f(), f.p()));
        totals.homogeneity(1).ifPresent(h -> finite(h.chi2(), h.p(), h.pooled(), h.tau()));
        if (random.nextInt(20) == 0) {
            check(OperatorComparison.of(washes, 1).spread());
        }
    }

    private static void recounts(Random random) {
        int rows = rows(random);
        int kind = random.nextInt(6);
        List<Recount> recounts = new ArrayList<>();
        double[] values = new double[rows];
        String[] parts = new String[rows];
        String[] operators = new String[rows];
        int parted = 1 + random.nextInt(6);
        for (int i = 0; i < rows; i++) {
            int mites = count(random, kind);
            parts[i] = "catch " + i % parted;
            operators[i] = "operator " + i / parted % 3;
            recounts.add(new Recount(parts[i], operators[i], mites));
            values[i] = mites;
        }
        RecountStudy study = RecountStudy.of(recounts);
        check(study.repeatability());
        check(study.reproducibility());
        study.raw().ifPresent(FitFuzzTest::check);
        study.root().ifPresent(FitFuzzTest::check);
        check(GaugeVerdict.of(values, parts, operators).gauge());
    }

    private static void check(OneWayPrecision p) {
        finite(p.mean(), p.msBetween(), p.msWithin(), p.nBar(), p.p());
        finite(p.repeatability(), p.betweenOperators(), p.reproducibility());
        assertThat(p.f()).isNotNaN();
    }

    private static void charts(Random random) {
        int rows = rows(random);
        int kind = random.nextInt(6);
        double[] mites = new double[rows];
        double[] bees = new double[rows];
        for (int i = 0; i < rows; i++) {
            mites[i] = count(random, kind);
            bees[i] = 1 + count(random, 2);
        }
        for (ChartReading chart :
                List.of(ChartReading.ofRates(mites, bees), ChartReading.ofIndividuals(mites))) {
            assertThat(chart.points()).hasSize(rows);
            for (ChartReading.Point point : chart.points()) {
                finite(point.value());
                assertThat(point.lower()).isLessThanOrEqualTo(point.upper());
            }
        }
    }

    private static void trend(Random random) {
        int rows = 1 + rows(random);
        int kind = random.nextInt(6);
        int weeks = random.nextInt(3);
        List<Sample> samples = new ArrayList<>();
        for (int i = 0; i < rows; i++) {
            double week =
                    switch (weeks) {
                        case 0 -> 2 * i;
                        case 1 -> random.nextInt(4);
                        default -> 1e5 * (2 * random.nextDouble() - 1);
                    };
            samples.add(new Sample(week, count(random, kind), 1 + count(random, 2)));
        }
        GrowthFit.of(samples)
                .ifPresent(
                        f -> {
                            finite(f.b0(), f.b1(), f.v00(), f.v01(), f.v11(), f.deviance());
                            assertThat(f.b1())
                                    .isBetween(f.slopeLimits().lower(), f.slopeLimits().upper());
                        });
        for (ColonyTrend stretch : ColonyTrend.stretches(samples, List.of(3.0))) {
            check(stretch.growth());
            check(stretch.doubling());
            check(stretch.crossing(3));
            stretch.infestation().ifPresent(FitFuzzTest::check);
            stretch.line(new double[] {0, 4}).forEach(p -> assertThat(p.infestation()).isNotNaN());
        }
    }

    /** {@link Result} itself refuses what is not finite or not within its interval. */
    private static void check(Result result) {
        assertThat(ResultText.of(result, Quantity.PLAIN)).doesNotContain("NaN", "Infinity", "∞");
        assertThat(result.remarks())
                .allSatisfy(r -> assertThat(r).doesNotContain("NaN", "Infinity", "∞"));
        if (result instanceof Result.Estimate estimate) {
            finite(estimate.value());
            assertThat(estimate.lower()).isNotNaN();
            assertThat(estimate.upper()).isNotNaN();
        }
    }

    private static void finite(double... values) {
        for (double value : values) {
            assertThat(value).isFinite();
        }
    }
}
