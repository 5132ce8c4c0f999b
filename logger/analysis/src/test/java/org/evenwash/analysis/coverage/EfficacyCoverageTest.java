package org.evenwash.analysis.coverage;

import java.util.ArrayList;
import java.util.List;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.efficacy.BeforeAfter;
import org.evenwash.analysis.efficacy.Efficacy;
import org.evenwash.analysis.efficacy.GroupEfficacy;
import org.evenwash.analysis.efficacy.HendersonTilton;
import org.evenwash.analysis.efficacy.RateChange;
import org.evenwash.analysis.efficacy.Wash;
import org.evenwash.analysis.numeric.Limits;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Coverage of the intervals about a treatment, re-derived: {@code mvn -Pcoverage}. */
@Tag("coverage")
class EfficacyCoverageTest {

    private static final long SEED = 4_731;
    private static final double GROWTH = 1.2;
    private static final double[] EFFICACIES = {0.5, 0.8, 0.9, 0.97};

    /** 8, 20, 60 mites before in both; the control grows by a fifth. */
    @Test
    void onePairWithControl_exact() {
        var draws = new Draws(SEED);
        var coverage = new Coverage("efficacy, control, exact", 6000);
        for (double before : new double[] {8, 20, 60}) {
            for (double efficacy : EFFICACIES) {
                coverage.simulate(
                        before + " mites, efficacy " + efficacy,
                        () -> {
                            double after = before * GROWTH * (1 - efficacy);
                            var treated = pair(draws, before, after, 300, 300);
                            var control = pair(draws, before, before * GROWTH, 300, 300);
                            return Coverage.holds(
                                    HendersonTilton.of(treated, control).exact(), 100 * efficacy);
                        });
            }
        }
        coverage.leastMustReach(0.967);
    }

    /** 8, 20, 60 mites before, 300 bees before and 280 after. */
    @Test
    void onePairWithoutControl_exact() {
        var draws = new Draws(SEED + 1);
        var coverage = new Coverage("efficacy, no control, exact", 6000);
        for (double before : new double[] {8, 20, 60}) {
            for (double efficacy : EFFICACIES) {
                coverage.simulate(
                        before + " mites, efficacy " + efficacy,
                        () -> {
                            double after = before * (1 - efficacy) * 280 / 300;
                            var pair = pair(draws, before, after, 300, 280);
                            return Coverage.holds(
                                    RateChange.of(pair.before(), pair.after()).limits(),
                                    100 * efficacy);
                        });
            }
        }
        coverage.leastMustReach(0.962);
    }

    /** 4, 8, 12 colonies a group, 15 or 30 mites before, each colony's change varying by e^0.5. */
    @Test
    void groups_equalBeesAndSizes() {
        groups(new Coverage("efficacy, groups", 6000), new Draws(SEED + 2), 0, 0);
    }

    /** As above, with bees varying by e^0.3 from wash to wash and four more untreated colonies. */
    @Test
    void groups_unequalBeesAndSizes() {
        groups(new Coverage("efficacy, groups, unequal", 6000), new Draws(SEED + 3), 0.3, 4);
    }

    /** As the first, without a control. */
    @Test
    void groupWithoutControl() {
        var draws = new Draws(SEED + 4);
        var coverage = new Coverage("efficacy, group without control", 6000);
        for (int k : new int[] {4, 8, 12}) {
            for (double mites : new double[] {15, 30}) {
                for (double efficacy : EFFICACIES) {
                    coverage.simulate(
                            k + " colonies, " + mites + " mites, efficacy " + efficacy,
                            () ->
                                    Coverage.holds(
                                            GroupEfficacy.withoutControl(
                                                            group(draws, k, mites, 1 - efficacy, 0))
                                                    .limits(),
                                            100 * efficacy));
                }
            }
        }
        coverage.leastMustReach(0.921);
    }

    /** One treated colony and 2, 4 or 8 untreated, each colony's change varying by e^0.5. */
    @Test
    void oneColonyBesideSeveral() {
        var draws = new Draws(SEED + 5);
        var coverage = new Coverage("efficacy, one beside several", 6000);
        for (int k : new int[] {2, 4, 8}) {
            for (double mites : new double[] {20, 60}) {
                for (double efficacy : EFFICACIES) {
                    coverage.simulate(
                            k + " controls, " + mites + " mites, efficacy " + efficacy,
                            () -> {
                                double left = GROWTH * (1 - efficacy);
                                var treated = group(draws, 1, mites, left, 0).get(0);
                                var controls = group(draws, k, mites, GROWTH, 0);
                                return holds(
                                        Efficacy.withControls(treated, controls), 100 * efficacy);
                            });
                }
            }
        }
        coverage.leastMustReach(0.95);
    }

    /** Few controls beside many treated; with their degrees of freedom added up, .83 to .91. */
    @Test
    void groups_fewControls() {
        var draws = new Draws(SEED + 6);
        var coverage = new Coverage("efficacy, groups, few controls", 6000);
        for (int[] sizes : new int[][] {{12, 2}, {12, 4}, {20, 4}}) {
            for (double mites : new double[] {15, 30}) {
                for (double efficacy : EFFICACIES) {
                    coverage.simulate(
                            sizes[0] + " beside " + sizes[1] + ", " + mites + " mites, " + efficacy,
                            () -> {
                                double left = GROWTH * (1 - efficacy);
                                var treated = group(draws, sizes[0], mites, left, 0);
                                var control = group(draws, sizes[1], mites, GROWTH, 0);
                                return Coverage.holds(
                                        GroupEfficacy.of(treated, control).limits(),
                                        100 * efficacy);
                            });
                }
            }
        }
        coverage.leastMustReach(0.921);
    }

    private static double holds(Result result, double truth) {
        if (result instanceof Result.Estimate estimate) {
            return Coverage.holds(new Limits(estimate.lower(), estimate.upper()), truth);
        }
        if (result instanceof Result.Bound bound) {
            return (bound.side() == Result.Side.AT_LEAST) == (bound.limit() <= truth) ? 1 : 0;
        }
        return Double.NaN;
    }

    private static void groups(Coverage coverage, Draws draws, double beeSpread, int more) {
        for (int k : new int[] {4, 8, 12}) {
            for (double mites : new double[] {15, 30}) {
                for (double efficacy : EFFICACIES) {
                    coverage.simulate(
                            k + " colonies, " + mites + " mites, efficacy " + efficacy,
                            () -> {
                                double left = GROWTH * (1 - efficacy);
                                var treated = group(draws, k, mites, left, beeSpread);
                                var control = group(draws, k + more, mites, GROWTH, beeSpread);
                                return Coverage.holds(
                                        GroupEfficacy.of(treated, control).limits(),
                                        100 * efficacy);
                            });
                }
            }
        }
        coverage.leastMustReach(0.921);
    }

    /** Colonies differ in level by e^0.5; the mean of e^(0.5 Z) is taken out, so that levels average. */
    private static List<BeforeAfter> group(
            Draws draws, int colonies, double mites, double change, double beeSpread) {
        var group = new ArrayList<BeforeAfter>();
        for (int i = 0; i < colonies; i++) {
            double level = draws.lognormal(mites, 0.5);
            double own = draws.lognormal(change, 0.5) * Math.exp(-0.125);
            double before = draws.lognormal(300, beeSpread);
            double after = draws.lognormal(300, beeSpread);
            group.add(pair(draws, level * before / 300, level * own * after / 300, before, after));
        }
        return group;
    }

    private static BeforeAfter pair(
            Draws draws, double before, double after, double beesBefore, double beesAfter) {
        return new BeforeAfter(
                new Wash(draws.poisson(before), beesBefore),
                new Wash(draws.poisson(after), beesAfter));
    }
}
