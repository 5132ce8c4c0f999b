package org.evenwash.analysis.coverage;

import java.util.ArrayList;
import java.util.List;
import org.evenwash.analysis.apiary.ApiaryMean;
import org.evenwash.analysis.apiary.ColoniesOver;
import org.evenwash.analysis.apiary.ColonyWash;
import org.evenwash.analysis.numeric.Hypergeometric;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Coverage of the intervals about an apiary, re-derived: {@code mvn -Pcoverage}. */
@Tag("coverage")
class ApiaryCoverageTest {

    private static final int RUNS = 6000;
    private static final long SEED = 4_721;

    /** Apiaries of 10, 20, 50 colonies, 3, 5, 8 or 20 washed, colonies varying by 0.4 or 1, mean 1 or 3. */
    @Test
    void meanOfSomeColonies_logScale() {
        var draws = new Draws(SEED);
        var coverage = new Coverage("apiary mean, some colonies", RUNS);
        for (int colonies : new int[] {10, 20, 50}) {
            for (int washed : new int[] {3, 5, 8, 20}) {
                if (washed < colonies) {
                    meanOf(draws, coverage, washed, colonies);
                }
            }
        }
        coverage.leastMustReach(0.934);
        coverage.meanMustReach(0.965);
    }

    /** Apiaries of 5, 10, 20 colonies, all washed. */
    @Test
    void meanOfAllColonies_logScale() {
        var draws = new Draws(SEED + 1);
        var coverage = new Coverage("apiary mean, all colonies", RUNS);
        for (int colonies : new int[] {5, 10, 20}) {
            meanOf(draws, coverage, colonies, colonies);
        }
        coverage.leastMustReach(0.963);
    }

    private static void meanOf(Draws draws, Coverage coverage, int washed, int colonies) {
        for (double variation : new double[] {0.4, 1}) {
            for (double rate : new double[] {1, 3}) {
                coverage.simulate(
                        washed + " of " + colonies + ", variation " + variation + ", mean " + rate,
                        () -> {
                            double truth = 0;
                            var washes = new ArrayList<ColonyWash>();
                            for (int i = 0; i < colonies; i++) {
                                double own = draws.gamma(rate, variation);
                                truth += own / colonies;
                                if (i < washed) {
                                    washes.add(new ColonyWash(draws.poisson(3 * own), 300));
                                }
                            }
                            boolean none = washes.stream().allMatch(wash -> wash.mites() == 0);
                            return none
                                    ? Double.NaN
                                    : Coverage.holds(
                                            ApiaryMean.of(washes, colonies).limits(), truth);
                        });
            }
        }
    }

    /** Enumerated: every sample size and every number of colonies over, apiaries of 8 to 100. */
    @Test
    void coloniesOver_eachBound() {
        var upper = new Coverage("colonies over, upper bound", 0);
        var lower = new Coverage("colonies over, lower bound", 0);
        for (int colonies = 8; colonies <= 100; colonies += colonies < 30 ? 1 : 7) {
            for (int washed = 1; washed <= colonies; washed++) {
                enumerate(washed, colonies, upper, lower);
            }
        }
        // Exact ties at 5 % count as excluded, so the coverage may be 0.95 less rounding.
        upper.leastMustReach(0.95);
        lower.leastMustReach(0.95);
    }

    private static void enumerate(int washed, int colonies, Coverage upper, Coverage lower) {
        List<ColoniesOver> bounds = new ArrayList<>();
        for (int over = 0; over <= washed; over++) {
            bounds.add(ColoniesOver.of(over, washed, colonies));
        }
        for (int truth = 0; truth <= colonies; truth++) {
            var law = new Hypergeometric(colonies, truth, washed);
            double heldAbove = 0;
            double heldBelow = 0;
            for (int over = 0; over <= washed; over++) {
                double chance = law.atMost(over) - law.atMost(over - 1);
                heldAbove += bounds.get(over).atMost() >= truth ? chance : 0;
                heldBelow += bounds.get(over).atLeast() <= truth ? chance : 0;
            }
            String scenario = truth + " over, " + washed + " of " + colonies + " washed";
            upper.add(scenario, heldAbove);
            lower.add(scenario, heldBelow);
        }
    }
}
