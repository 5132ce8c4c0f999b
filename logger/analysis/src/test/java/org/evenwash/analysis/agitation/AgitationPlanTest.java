package org.evenwash.analysis.agitation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;

/**
 * The planning formula against median half-widths found by simulation in R 4.2.2 (per cent of the time
 * to 95 %, without and with an intraclass correlation of 0.05).
 */
class AgitationPlanTest {

    private static final List<Double> EARLY = List.of(0.25, 0.5);
    private static final List<Double> SPREAD = List.of(0.15, 0.3, 0.6, 1.0);
    private static final List<Double> LATE = List.of(0.5, 1.0, 1.5, 2.0);

    private record Row(
            ReleaseModel model,
            List<Double> times,
            int mites,
            double rho,
            List<Integer> washes,
            List<Integer> percent) {}

    // spotless:off
    private static final List<Row> SIMULATED = List.of(
        new Row(ReleaseModel.EXPONENTIAL, EARLY,  10, 0,    List.of(8, 12, 24, 48),  List.of(34, 27, 18, 12)),
        new Row(ReleaseModel.EXPONENTIAL, EARLY,  10, 0.05, List.of(8, 12, 24, 48),  List.of(42, 32, 22, 15)),
        new Row(ReleaseModel.EXPONENTIAL, EARLY,  30, 0,    List.of(8, 12, 24, 48),  List.of(19, 15, 10, 7)),
        new Row(ReleaseModel.EXPONENTIAL, EARLY,  30, 0.05, List.of(8, 12, 24, 48),  List.of(30, 24, 16, 11)),
        new Row(ReleaseModel.WEIBULL,     SPREAD, 10, 0,    List.of(12, 24, 48, 96), List.of(47, 30, 22, 15)),
        new Row(ReleaseModel.WEIBULL,     SPREAD, 10, 0.05, List.of(12, 24, 48, 96), List.of(48, 34, 24, 18)),
        new Row(ReleaseModel.WEIBULL,     SPREAD, 30, 0,    List.of(12, 24, 48, 96), List.of(27, 18, 12, 9)),
        new Row(ReleaseModel.WEIBULL,     SPREAD, 30, 0.05, List.of(12, 24, 48, 96), List.of(36, 26, 19, 13)),
        new Row(ReleaseModel.WEIBULL,     LATE,   30, 0,    List.of(12, 24, 48, 96), List.of(21, 14, 10, 7)),
        new Row(ReleaseModel.WEIBULL,     LATE,   30, 0.05, List.of(12, 24, 48, 96), List.of(29, 20, 15, 10)));
    // spotless:on

    @Test
    void plannedHalfWidths_agreeWithSimulatedOnesWithinAFifth() {
        for (Row row : SIMULATED) {
            var plan = new AgitationPlan(row.model(), row.times(), row.mites(), row.rho());
            for (int i = 0; i < row.washes().size(); i++) {
                assertThat(100 * plan.halfWidth(row.washes().get(i)))
                        .as(row + ", " + row.washes().get(i) + " washes")
                        .isCloseTo(row.percent().get(i), within(1 + 0.2 * row.percent().get(i)));
            }
        }
    }

    @Test
    void washesFor_isTheFewestThatSuffice() {
        var plan = new AgitationPlan(ReleaseModel.EXPONENTIAL, EARLY, 10, 0.05);
        int washes = plan.washesFor(0.2).orElseThrow();
        assertThat(plan.halfWidth(washes)).isLessThanOrEqualTo(0.2);
        assertThat(plan.halfWidth(washes - 1)).isGreaterThan(0.2);
        assertThat(plan.washesFor(10)).hasValue(AgitationTime.MIN_WASHES);
        assertThat(plan.washesFor(1e-9)).isEmpty();
    }

    /** Rule of thumb: 593 mites for ±10 %, 148 for ±20 %, times the dispersion. */
    @Test
    void mitesFor_followTheRuleOfThumb() {
        assertThat(AgitationPlan.mitesFor(0.1, 1)).isCloseTo(593, within(0.5));
        assertThat(AgitationPlan.mitesFor(0.2, 2))
                .isCloseTo(2 * 148, Percentage.withPercentage(0.3));
    }

    @Test
    void timesToTry_areFourOrMoreAndReachBeyondTheGuess() {
        assertThat(AgitationPlan.timesAround(60))
                .containsExactly(10.0, 20.0, 35.0, 60.0, 90.0, 120.0);
    }

    @Test
    void advice_asksForFourTimesAndALongSecondWash() {
        var advice = new AgitationPlan(ReleaseModel.EXPONENTIAL, EARLY, 30, 0.05).advice(60);
        assertThat(advice).anyMatch(a -> a.startsWith("At least 4 different times"));
        assertThat(advice).anyMatch(a -> a.contains("at least 120 s"));
        assertThat(advice).anyMatch(a -> a.contains("more washes tell more"));
        assertThat(new AgitationPlan(ReleaseModel.WEIBULL, SPREAD, 30, 0).advice(60))
                .noneMatch(a -> a.contains("different times") || a.contains("more washes"));
    }

    @Test
    void aPlateau_cannotBePlannedFor() {
        assertThatThrownBy(() -> new AgitationPlan(ReleaseModel.SATURATING, SPREAD, 10, 0))
                .hasMessageContaining("choose EXPONENTIAL or WEIBULL");
    }
}
