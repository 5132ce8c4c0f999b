package org.evenwash.analysis.coverage;

import java.util.Optional;
import org.evenwash.analysis.beecount.FillLine;
import org.evenwash.analysis.beecount.MassRatio;
import org.evenwash.analysis.infestation.BeesInSample;
import org.evenwash.analysis.infestation.CorrectedRate;
import org.evenwash.analysis.infestation.PoissonRate;
import org.evenwash.analysis.numeric.Binomial;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.numeric.Poisson;
import org.evenwash.analysis.recovery.PredictiveBeta;
import org.evenwash.analysis.recovery.RecountSummary;
import org.evenwash.analysis.recovery.TwoPass;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * Coverage of the intervals about one sample, re-derived: {@code mvn -Pcoverage}. The figures to reach
 * were found beforehand by simulations of the same design in R 4.2.2.
 */
@Tag("coverage")
class SampleCoverageTest {

    private static final long SEED = 4_711;

    /** The figure for two passes came from a simulation, good to about this; here it is exact. */
    private static final double FIGURE_ERROR = 0.003;

    /** Summed exactly over all counts, rates 0.1 to 13 per 100 bees; exact limits never fall below. */
    @Test
    void countedBees_garwood() {
        var coverage = new Coverage("infestation, counted bees", 0);
        for (double rate = 0.1; rate <= 13; rate *= 1.1) {
            var law = new Poisson(3 * rate);
            double held = 0;
            for (int mites = 0; mites <= 150; mites++) {
                PoissonRate limits = PoissonRate.of(mites, 300);
                held +=
                        law.mass(mites)
                                * (limits.lower() <= rate && rate <= limits.upper() ? 1 : 0);
            }
            coverage.add("rate " + rate, held);
        }
        coverage.leastMustReach(0.95);
    }

    /**
     * 100 scenarios drawn at random: rate 0.1 to 13 per 100, 150 to 400 bees known to 3 to 15 %, recovery
     * 0.6 to 0.98, calibrated by 4 or 8 washes of about 20 mites, correlation 0.02 to 0.04.
     */
    @Test
    void correctedForRecovery_mover() {
        var draws = new Draws(SEED);
        var coverage = new Coverage("infestation, corrected (MOVER)", 6000);
        for (int i = 0; i < 100; i++) {
            double rate = draws.logUniform(0.1, 13);
            double bees = draws.uniform(150, 400);
            double spread = draws.logUniform(0.03, 0.15);
            double recovery = draws.uniform(0.6, 0.98);
            double rho = draws.uniform(0.02, 0.04);
            int washes = i % 2 == 0 ? 4 : 8;
            String scenario =
                    String.format(
                            "rate %.2f, bees %.0f ± %.2f, recovery %.2f, rho %.3f, %d washes",
                            rate, bees, spread, recovery, rho, washes);
            coverage.simulate(
                    scenario,
                    () -> {
                        Optional<PredictiveBeta> law =
                                PredictiveBeta.from(
                                        RecountSummary.of(
                                                draws.calibration(washes, 20, recovery, rho)));
                        if (law.isEmpty()) {
                            return Double.NaN;
                        }
                        double actual = draws.lognormal(bees, spread);
                        double share = draws.recovery(recovery, rho);
                        int mites = draws.poisson(rate * actual * share / 100);
                        CorrectedRate fit =
                                CorrectedRate.of(mites, new BeesInSample(bees, spread), law.get());
                        return Coverage.holds(new Limits(fit.lower(), fit.upper()), rate);
                    });
        }
        coverage.leastMustReach(0.941);
        coverage.meanMustReach(0.973);
    }

    /** 3, 5 or 10 calibration samples of about 300 bees with a standard deviation of 20. */
    @Test
    void fillLine() {
        var draws = new Draws(SEED + 1);
        var coverage = new Coverage("bees at a fill line", 20_000);
        for (int k : new int[] {3, 5, 10}) {
            coverage.simulate(
                    k + " samples",
                    () -> {
                        var counts = new double[k];
                        for (int i = 0; i < k; i++) {
                            counts[i] = draws.normal(300, 20);
                        }
                        return Coverage.holds(FillLine.of(counts).limits(), draws.normal(300, 20));
                    });
        }
        coverage.leastMustReach(0.947);
    }

    /** 3, 5 or 10 samples of 25 to 50 g, 7.7 bees per gram, scatter 1.2 bees per √g, a new one of 38 g. */
    @Test
    void mass() {
        var draws = new Draws(SEED + 2);
        var coverage = new Coverage("bees by mass", 20_000);
        for (int k : new int[] {3, 5, 10}) {
            coverage.simulate(
                    k + " samples",
                    () -> {
                        var grams = new double[k];
                        var counts = new double[k];
                        for (int i = 0; i < k; i++) {
                            grams[i] = draws.uniform(25, 50);
                            counts[i] = bees(draws, grams[i]);
                        }
                        return Coverage.holds(
                                MassRatio.of(grams, counts, 38).limits(), bees(draws, 38));
                    });
        }
        coverage.leastMustReach(0.949);
    }

    private static double bees(Draws draws, double grams) {
        return draws.normal(7.7 * grams, 1.2 * Math.sqrt(grams));
    }

    /** 72 scenarios: 4, 8, 20 washes; 6, 20 mites; recovery 0.7, 0.8, 0.9, 0.97; correlation 0, 0.05, 0.1. */
    @Test
    void meanRecovery_kornGraubard() {
        var draws = new Draws(SEED + 3);
        var coverage = new Coverage("mean recovery (Korn–Graubard)", 4000);
        for (int washes : new int[] {4, 8, 20}) {
            for (double mites : new double[] {6, 20}) {
                for (double p : new double[] {0.7, 0.8, 0.9, 0.97}) {
                    for (double rho : new double[] {0, 0.05, 0.1}) {
                        coverage.simulate(
                                washes + " washes, " + mites + " mites, p " + p + ", rho " + rho,
                                () -> {
                                    RecountSummary fit =
                                            RecountSummary.of(
                                                    draws.calibration(washes, mites, p, rho));
                                    return fit.washes() == 0
                                            ? Double.NaN
                                            : Coverage.holds(fit.limits(), p);
                                });
                    }
                }
            }
        }
        coverage.leastMustReach(0.924);
        coverage.meanMustReach(0.971);
    }

    /** Summed exactly: 5, 10, 20, 50 mites on the bees, one wash bringing off 0.5, 0.7, 0.9 or 0.97. */
    @Test
    void twoPasses_exact() {
        var coverage = new Coverage("two equal passes, exact", 0);
        for (int all : new int[] {5, 10, 20, 50}) {
            for (double p : new double[] {0.5, 0.7, 0.9, 0.97}) {
                double held = 0;
                for (int c1 = 0; c1 <= all; c1++) {
                    for (int c2 = 0; c2 <= all - c1; c2++) {
                        double chance = mass(all, c1, p) * mass(all - c1, c2, p);
                        held += chance * Coverage.holds(TwoPass.of(c1, c2).exact(), p);
                    }
                }
                coverage.add(all + " mites, p " + p, held);
            }
        }
        coverage.leastMustReach(0.968, FIGURE_ERROR);
    }

    private static double mass(int size, int hits, double p) {
        return new Binomial(size, p).mass(hits);
    }
}
