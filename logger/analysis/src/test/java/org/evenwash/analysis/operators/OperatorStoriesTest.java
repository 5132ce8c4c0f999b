package org.evenwash.analysis.operators;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.operators.OperatorComparison.Verdict;
import org.evenwash.analysis.operators.OperatorWash.Conditions;
import org.evenwash.analysis.operators.RecountStudy.Recount;
import org.junit.jupiter.api.Test;

class OperatorStoriesTest {

    private static final long SEED = 1;

    private static void add(
            List<OperatorWash> washes, String who, Conditions where, int... caught) {
        for (int first : caught) {
            washes.add(new OperatorWash(who, where, first, 20 - first));
        }
    }

    private static Conditions day(String day) {
        return new Conditions("standard", "bench-1", day);
    }

    @Test
    void aClearDifference_isCalledOneAndPointsAtTheMethodNotThePerson() {
        List<OperatorWash> washes = new ArrayList<>();
        add(washes, "A", day("1"), 19, 18, 20, 19, 18);
        add(washes, "B", day("1"), 19, 20, 18, 19, 19);
        add(washes, "C", day("1"), 12, 11, 13, 10, 12);
        var report = OperatorComparison.of(washes, SEED);
        assertThat(report.verdict()).isEqualTo(Verdict.DIFFERENCE);
        assertThat(report.test().orElseThrow().p()).isLessThan(0.01);
        assertThat(report.remarks()).anyMatch(r -> r.contains("besides the operator"));
        assertThat(report.funnel().get(2).place()).isEqualTo(Funnel.Place.OUTSIDE_OUTER);
        assertThat(OperatorComparison.of(washes, SEED))
                .as("same seed, same answer")
                .isEqualTo(report);
    }

    @Test
    void washesThatDifferByThemselves_areNotHeldAgainstAnOperator() {
        List<OperatorWash> washes = new ArrayList<>();
        add(washes, "A", day("1"), 20, 8, 19, 9);
        add(washes, "B", day("1"), 10, 20, 9, 12);
        var report = OperatorComparison.of(washes, SEED);
        assertThat(report.verdict()).isEqualTo(Verdict.NO_DIFFERENCE_SEEN);
        assertThat(report.phiWithin()).isGreaterThan(2);
        assertThat(report.remarks()).anyMatch(r -> r.contains("does not show that there is none"));
    }

    /** Whoever differs by a third on one day may well leave nothing on the bees on another. */
    @Test
    void aDayOnWhichEveryMiteCameOff_makesNobodysWashesScatter() {
        List<OperatorWash> washes = new ArrayList<>();
        add(washes, "A", day("1"), 19, 19, 19);
        add(washes, "B", day("1"), 13, 13, 13);
        assertThat(OperatorComparison.of(washes, SEED).phiWithin()).isEqualTo(1);
        for (String who : List.of("A", "B", "A", "B", "A", "B")) {
            washes.add(new OperatorWash(who, day("2"), 100, 0));
        }
        var report = OperatorComparison.of(washes, SEED);
        assertThat(report.phiWithin()).isEqualTo(1);
        assertThat(report.remarks()).noneMatch(r -> r.contains("scatter"));
    }

    @Test
    void operatorsOfWhomNothingCanBeTold_leaveTheScatterOfTheOthersAsItIs() {
        List<OperatorWash> washes = new ArrayList<>();
        add(washes, "A", day("1"), 20, 8, 19, 9);
        add(washes, "B", day("1"), 10, 20, 9, 12);
        double alone = OperatorComparison.of(washes, SEED).phiWithin();
        add(washes, "A", day("2"), 20, 20);
        add(washes, "C", day("2"), 20, 20);
        add(washes, "D", day("2"), 20, 20, 20);
        assertThat(OperatorComparison.of(washes, SEED).phiWithin()).isCloseTo(alone, within(1e-12));
    }

    @Test
    void differentRecipes_areComparedOnlyWithinThemselves() {
        List<OperatorWash> washes = new ArrayList<>();
        Conditions gentle = new Conditions("gentle", "bench-1", "1");
        Conditions brisk = new Conditions("brisk", "bench-1", "1");
        add(washes, "A", gentle, 10, 11, 9, 10, 11, 9);
        add(washes, "A", brisk, 19);
        add(washes, "B", brisk, 19, 20, 18, 19, 18, 20);
        add(washes, "B", gentle, 10);
        var totals = new OperatorTotals(washes);
        assertThat(totals.homogeneity(1).orElseThrow().p())
                .as("lumped together, the recipe looks like the operator")
                .isLessThan(0.001);
        var report = OperatorComparison.of(washes, SEED);
        assertThat(report.verdict()).isEqualTo(Verdict.NO_DIFFERENCE_SEEN);
    }

    /** 95 % by one recipe and 70 % by the other, whoever washes: nothing on the page may say otherwise. */
    @Test
    void recipesThatDiffer_areNoSpreadBetweenOperators_andPutNobodyOutside() {
        Conditions strong = new Conditions("strong", "bench-1", "1");
        Conditions weak = new Conditions("weak", "bench-1", "1");
        List<OperatorWash> washes = new ArrayList<>();
        for (String who : List.of("Ann", "Ben")) {
            add(washes, who, strong, 19, 19, 19, 19, 19, 19, 19, 19, 19, 19);
            add(washes, who, weak, 14);
        }
        for (String who : List.of("Cal", "Dee")) {
            add(washes, who, strong, 19);
            add(washes, who, weak, 14, 14, 14, 14, 14, 14, 14, 14, 14, 14);
        }
        var report = OperatorComparison.of(washes, SEED);
        assertThat(report.verdict()).isEqualTo(Verdict.NO_DIFFERENCE_SEEN);
        assertThat(report.spread()).isNotInstanceOf(Estimate.class);
        assertThat(report.funnel())
                .allSatisfy(
                        point -> {
                            assertThat(point.place()).isEqualTo(Funnel.Place.INSIDE);
                            assertThat(point.expected()).isCloseTo(point.share(), within(1e-12));
                            assertThat(point.alike()).isCloseTo(0.825, within(0.005));
                        });
        assertThat(report.phiWithin()).isEqualTo(1);
        assertThat(report.quasiF()).isEmpty();
        assertThat(report.remarks())
                .anyMatch(r -> r.startsWith("Washes under different conditions"));
    }

    /**
     * Expected numbers: R 4.2.2, moments of Σ residual²/variance and Q = rᵀΣ⁻¹r by solve() on three of
     * the four residuals, limits by uniroot at qchisq(.975, 3) and qchisq(.025, 3).
     */
    @Test
    void operatorsWhoDifferUnderBothRecipes_areSeenToDifferByAsMuch() {
        Conditions one = new Conditions("a", "bench-1", "1");
        Conditions two = new Conditions("b", "bench-1", "1");
        List<OperatorWash> washes = new ArrayList<>();
        add(washes, "Ann", one, 19, 18, 20);
        add(washes, "Ann", two, 15, 13);
        add(washes, "Ben", one, 19, 20);
        add(washes, "Ben", two, 14, 15, 13);
        add(washes, "Cal", one, 17);
        add(washes, "Cal", two, 9, 10, 8, 11);
        add(washes, "Dee", one, 15, 14, 16);
        add(washes, "Dee", two, 9);
        var report = OperatorComparison.of(washes, SEED);
        assertThat(report.test().orElseThrow().statistic())
                .isCloseTo(24.6894816470964, within(1e-9));
        Estimate spread = (Estimate) report.spread();
        assertThat(spread.value()).isCloseTo(0.1213883897307, within(1e-9));
        assertThat(spread.lower()).isCloseTo(0.0546545110695, within(1e-7));
        assertThat(spread.upper()).isCloseTo(0.4546031980631, within(1e-7));
        double[] expected = {0.7606666666667, 0.7021111111111, 0.6435555555556, 0.8045833333333};
        for (int i = 0; i < expected.length; i++) {
            Funnel.Point point = report.funnel().get(i);
            assertThat(point.expected()).isCloseTo(expected[i], within(1e-9));
            FunnelLimits pooled = FunnelLimits.at(point.mites(), 0.7275, FunnelLimits.INNER);
            boolean drawnInside =
                    pooled.lower() <= point.alike() && point.alike() <= pooled.upper();
            assertThat(drawnInside)
                    .as("picture and table agree")
                    .isEqualTo(point.place() == Funnel.Place.INSIDE);
        }
    }

    @Test
    void eachOperatorOnADayOfTheirOwn_cannotBeCompared() {
        List<OperatorWash> washes = new ArrayList<>();
        add(washes, "A", day("1"), 19, 18, 20, 19);
        add(washes, "B", day("2"), 12, 13, 11, 12);
        var report = OperatorComparison.of(washes, SEED);
        assertThat(report.verdict()).isEqualTo(Verdict.NOT_ENOUGH_DATA);
        assertThat(report.needs().orElseThrow().needs()).contains("on the same day");
    }

    @Test
    void fewWashes_giveNoVerdictAndSayWhose() {
        List<OperatorWash> washes = new ArrayList<>();
        add(washes, "A", day("1"), 19, 18, 20, 19);
        add(washes, "B", day("1"), 12, 13);
        assertThat(OperatorComparison.of(washes, SEED).needs().orElseThrow().needs())
                .isEqualTo(
                        "at least 3 washes and 30 mites of each operator, under conditions shared with"
                                + " another (now B: 2 washes, 40 mites)");
    }

    /** 2 of C(6,3) = 20 deals are the clearest; 2 of C(4,2)² = 36. */
    @Test
    void fewDeals_giveNoVerdictHoweverClearTheDifference_andSayHowManyMoreWashesWould() {
        List<OperatorWash> oneDay = new ArrayList<>();
        add(oneDay, "Ann", Conditions.SAME, 20, 20, 20);
        add(oneDay, "Ben", Conditions.SAME, 0, 0, 0);
        var report = OperatorComparison.of(oneDay, SEED);
        assertThat(report.verdict()).isEqualTo(Verdict.NOT_ENOUGH_DATA);
        assertThat(report.needs().orElseThrow().needs())
                .isEqualTo(
                        "1 more wash by Ann, or 2 more washes by each of Ann and Ben under other"
                                + " conditions that both share: with the 6 washes that can be compared"
                                + " now, even the clearest difference arises in 10.0 % of all deals by"
                                + " chance");
        add(oneDay, "Ann", Conditions.SAME, 20);
        assertThat(OperatorComparison.of(oneDay, SEED).verdict()).isEqualTo(Verdict.DIFFERENCE);

        List<OperatorWash> twoDays = new ArrayList<>();
        for (String day : List.of("1", "2")) {
            add(twoDays, "Ann", day(day), 20, 19);
            add(twoDays, "Ben", day(day), 5, 4);
        }
        assertThat(OperatorComparison.of(twoDays, SEED).needs().orElseThrow().needs())
                .startsWith(
                        "1 more wash by Ann under the conditions of before (standard, bench-1, 1), or 1"
                                + " more wash by each of Ann and Ben under other conditions")
                .contains("the 8 washes", "5.6 %");
        add(twoDays, "Ann", day("3"), 20);
        add(twoDays, "Ben", day("3"), 5);
        assertThat(OperatorComparison.of(twoDays, SEED).verdict()).isEqualTo(Verdict.DIFFERENCE);
    }

    /** Where no mite was left on, dealing out tells nothing: those washes make no more deals. */
    @Test
    void daysOnWhichEveryMiteCameOff_addNoDeals() {
        List<OperatorWash> washes = new ArrayList<>();
        for (String day : List.of("1", "2", "3")) {
            boolean tells = day.equals("1");
            add(washes, "Ann", day(day), 20, 20, 20);
            add(washes, "Ben", day(day), tells ? 10 : 20, tells ? 9 : 20, tells ? 11 : 20);
        }
        assertThat(OperatorComparison.of(washes, SEED).needs().orElseThrow().needs())
                .contains("the 6 washes", "10.0 %");
    }

    @Test
    void everyMiteCaught_showsNoDifferenceEitherWay() {
        List<OperatorWash> washes = new ArrayList<>();
        add(washes, "A", day("1"), 20, 20, 20);
        add(washes, "B", day("1"), 20, 20, 20);
        assertThat(OperatorComparison.of(washes, SEED).needs().orElseThrow().needs())
                .contains("no difference can be seen");
        assertThat(OperatorComparison.of(List.of(), SEED).verdict())
                .isEqualTo(Verdict.NOT_ENOUGH_DATA);
    }

    @Test
    void theSpreadBetweenFourOperators_hasLimitsOrABound() {
        List<OperatorWash> washes = new ArrayList<>();
        add(washes, "A", day("1"), 19, 20, 19, 20);
        add(washes, "B", day("1"), 15, 16, 15, 14);
        add(washes, "C", day("1"), 18, 17, 18, 17);
        add(washes, "D", day("1"), 15, 14, 15, 14);
        Estimate spread = (Estimate) OperatorComparison.of(washes, SEED).spread();
        assertThat(spread.value()).isBetween(0.05, 0.25);
        // Equal mites and φ = 1 make Q(τ²) = Σ(share − mean)²/(variance + τ²), solved by hand for
        // the χ²
        // quantiles 0.2157953 and 9.3484036 with 3 degrees of freedom.
        double[] shares = {78 / 80.0, 60 / 80.0, 70 / 80.0, 58 / 80.0};
        double mean = Arrays.stream(shares).average().orElseThrow();
        double squares = Arrays.stream(shares).map(x -> (x - mean) * (x - mean)).sum();
        double variance = mean * (1 - mean) / 80;
        assertThat(spread.lower())
                .isCloseTo(Math.sqrt(squares / 9.3484036 - variance), within(1e-7));
        assertThat(spread.upper())
                .isCloseTo(Math.sqrt(squares / 0.2157953 - variance), within(1e-6));
        List<OperatorWash> alike = new ArrayList<>();
        for (String who : List.of("A", "B", "C", "D")) {
            add(alike, who, day("1"), 15, 18, 17, who.equals("A") ? 12 : 16);
        }
        var bound = OperatorComparison.of(alike, SEED).spread();
        assertThat(bound).isInstanceOfAny(Bound.class, NotEnoughData.class);
    }

    @Test
    void scatterWithinOperators_widensTheFunnelAsFewerMitesWould() {
        double[] mites = {20, 80, 320};
        var plain = Funnel.lines(0.85, 1, mites);
        var scattered = Funnel.lines(0.85, 4, mites);
        assertThat(scattered.get(1).inner()).isEqualTo(plain.get(0).inner());
        assertThat(scattered.get(2).outer()).isEqualTo(plain.get(1).outer());
        assertThat(plain.get(2).inner().upper()).isLessThan(plain.get(1).inner().upper());
    }

    /** Share of all deals counted exactly: 2 of the 20 ways to deal 6 washes in threes. */
    @Test
    void permutation_matchesCountingAllDeals() {
        List<OperatorWash> washes = new ArrayList<>();
        add(washes, "A", day("1"), 20, 20, 20);
        add(washes, "B", day("1"), 10, 10, 10);
        var test = WashPermutation.test(washes, WashPermutation.DEALS, SEED).orElseThrow();
        double exact = 2.0 / 20;
        double chance =
                4 * Math.sqrt(exact * (1 - exact) / test.deals()) + 1.0 / (test.deals() + 1);
        assertThat(test.p()).isCloseTo(exact, within(chance));
    }

    @Test
    void recountsOfFiveOperators_giveBothSpreads() {
        List<Recount> recounts = new ArrayList<>();
        int[][] counts = {{48, 50, 49}, {51, 50, 52}, {47, 49, 48}, {50, 51, 50}, {49, 48, 50}};
        for (int o = 0; o < counts.length; o++) {
            for (int count : counts[o]) {
                recounts.add(new Recount("catch", "operator " + o, count));
            }
        }
        RecountStudy study = RecountStudy.of(recounts);
        Estimate repeatability = (Estimate) study.repeatability();
        Estimate reproducibility = (Estimate) study.reproducibility();
        assertThat(reproducibility.value()).isGreaterThan(repeatability.value());
        // χ² limits with 10 degrees of freedom: s·√(10/20.483) and s·√(10/3.2470).
        assertThat(repeatability.lower() / repeatability.value())
                .isCloseTo(Math.sqrt(10 / 20.4832), within(1e-5));
        assertThat(repeatability.upper() / repeatability.value())
                .isCloseTo(Math.sqrt(10 / 3.24697), within(1e-5));
        assertThat(RecountStudy.of(recounts.subList(0, 6)).repeatability())
                .isInstanceOf(NotEnoughData.class);
    }

    @Test
    void catchesOfDifferentSize_arePooledWithoutTheirOwnDifference() {
        List<Recount> recounts = new ArrayList<>();
        for (String who : List.of("A", "B")) {
            for (int i = 0; i < 2; i++) {
                recounts.add(new Recount("small", who, 10 + i));
                recounts.add(new Recount("large", who, 1000 + i));
            }
        }
        var pooled = RecountStudy.of(recounts).raw().orElseThrow();
        assertThat(pooled.msWithin()).isCloseTo(0.5, within(1e-12));
        assertThat(pooled.msBetween()).isZero();
        assertThat(pooled.dfWithin()).isEqualTo(4);
    }

    @Test
    void oneMeasurementPerCell_leavesNoInteractionApart() {
        double[] values = {1, 2, 4, 5, 7, 9};
        String[] part = {"1", "1", "2", "2", "3", "3"};
        String[] operator = {"A", "B", "A", "B", "A", "B"};
        GaugeStudy study = GaugeStudy.of(values, part, operator).orElseThrow();
        assertThat(study.msError()).isEmpty();
        assertThat(study.shown().equipment())
                .isCloseTo(Math.sqrt(study.msInteraction()), within(1e-12));
        assertThat(GaugeVerdict.of(values, part, operator).gauge())
                .isInstanceOf(NotEnoughData.class);
        assertThat(
                        GaugeStudy.of(
                                new double[] {1, 2, 3},
                                new String[] {"1", "1", "2"},
                                new String[] {"A", "B", "A"}))
                .as("a cell is missing")
                .isEmpty();
    }

    @Test
    void chartsTurnFromNothingToProvisionalToReady() {
        double[] bees = new double[20];
        Arrays.fill(bees, 300);
        double[] mites = new double[20];
        Arrays.setAll(mites, i -> 6 + i % 4);
        mites[19] = 25;
        assertThat(read(mites, bees, 7).stage()).isEqualTo(ChartReading.Stage.NO_LIMITS);
        assertThat(read(mites, bees, 8).stage()).isEqualTo(ChartReading.Stage.PROVISIONAL);
        ChartReading ready = read(mites, bees, 20);
        assertThat(ready.stage()).isEqualTo(ChartReading.Stage.READY);
        assertThat(ready.points().get(19).signals()).isTrue();
        assertThat(ready.points().stream().filter(ChartReading.Point::signals)).hasSize(1);
    }

    @Test
    void overdispersedCounts_areChartedAsIndividuals() {
        double[] mites = {2, 15, 4, 20, 1, 12, 3, 18, 2, 16, 5, 19, 1, 14, 2, 17, 3, 15, 4, 20};
        double[] bees = new double[20];
        Arrays.fill(bees, 300);
        ChartReading chart = ChartReading.ofRates(mites, bees);
        assertThat(chart.kind()).isEqualTo(ChartReading.Kind.INDIVIDUALS);
        assertThat(chart.points()).noneMatch(ChartReading.Point::signals);
        assertThat(read(mites, bees, 16).stage())
                .as("individuals limits need 20 points")
                .isEqualTo(ChartReading.Stage.PROVISIONAL);
    }

    private static ChartReading read(double[] mites, double[] bees, int points) {
        return ChartReading.ofRates(Arrays.copyOf(mites, points), Arrays.copyOf(bees, points));
    }
}
