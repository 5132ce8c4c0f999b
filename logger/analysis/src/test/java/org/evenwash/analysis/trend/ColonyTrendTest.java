package org.evenwash.analysis.trend;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.junit.jupiter.api.Test;

class ColonyTrendTest {

    private static List<Sample> series(double[] weeks, int... mites) {
        List<Sample> samples = new ArrayList<>();
        for (int i = 0; i < mites.length; i++) {
            samples.add(new Sample(weeks[i], mites[i], 300));
        }
        return samples;
    }

    private static final double[] FORTNIGHTS = {0, 2, 4, 6, 8, 10, 12};

    @Test
    void doublingEveryFourWeeks_isFound() {
        ColonyTrend trend = ColonyTrend.of(series(FORTNIGHTS, 10, 14, 20, 28, 40, 57, 80));
        Estimate doubling = (Estimate) trend.doubling();
        assertThat(doubling.value()).isCloseTo(4, within(0.05));
        assertThat(doubling.lower()).isLessThan(4);
        assertThat(((Estimate) trend.growth()).value()).isCloseTo(18.92, within(0.5));
        // 10 in 300 doubling every four weeks meets 20 per 100 at log2(6)·4 weeks.
        assertThat(((Estimate) trend.crossing(20)).value()).isCloseTo(10.34, within(0.1));
    }

    @Test
    void aTreatment_startsANewStretch() {
        List<Sample> samples = series(FORTNIGHTS, 10, 14, 20, 28, 2, 3, 4);
        List<ColonyTrend> stretches = ColonyTrend.stretches(samples, List.of(7.0));
        assertThat(stretches).hasSize(2);
        assertThat(stretches.get(0).samples()).hasSize(4);
        assertThat(((Estimate) stretches.get(0).growth()).value()).isGreaterThan(10);
        assertThat(stretches.get(1).growth()).isInstanceOf(NotEnoughData.class);
        assertThat(((Estimate) ColonyTrend.of(samples).growth()).value())
                .as("a line through the treatment would say decline")
                .isNegative();
    }

    @Test
    void levelCounts_haveNoDoublingTimeAndNoCrossing() {
        ColonyTrend trend = ColonyTrend.of(series(FORTNIGHTS, 9, 11, 8, 10, 12, 9, 10));
        assertThat(trend.doubling()).isInstanceOf(NotEnoughData.class);
        assertThat(trend.crossing(5)).isInstanceOf(NotEnoughData.class);
        assertThat(trend.growth().remarks()).contains("Neither growth nor decline is shown.");
    }

    @Test
    void aDecline_isToldInWeeksToHalve() {
        ColonyTrend trend = ColonyTrend.of(series(FORTNIGHTS, 80, 57, 40, 28, 20, 14, 10));
        Estimate halving = (Estimate) trend.doubling();
        assertThat(halving.value()).isCloseTo(4, within(0.05));
        assertThat(halving.remarks()).contains("Weeks to halve: the infestation falls.");
    }

    @Test
    void aCrossingFarAhead_isNotProjected() {
        ColonyTrend trend = ColonyTrend.of(series(FORTNIGHTS, 10, 14, 20, 28, 40, 57, 80));
        Bound bound = (Bound) trend.crossing(2_000);
        assertThat(bound.limit()).isEqualTo(24);
        assertThat(trend.line(new double[] {12, 24, 24.1})).hasSize(2);
    }

    @Test
    void noMitesAtAll_leavesAnUpperBound() {
        ColonyTrend trend = ColonyTrend.of(series(FORTNIGHTS, 0, 0, 0, 0));
        Bound bound = (Bound) trend.infestation().orElseThrow();
        // Garwood 1936: nothing counted, mean at most 3.6889; here on 1200 bees.
        assertThat(bound.limit()).isCloseTo(100 * 3.6889 / 1200, within(1e-5));
        assertThat(trend.growth()).isInstanceOf(NotEnoughData.class);
    }

    @Test
    void mitesOnOneDateOnly_giveNoSlope() {
        Result growth = ColonyTrend.of(series(FORTNIGHTS, 0, 20, 0, 0)).growth();
        assertThat(((NotEnoughData) growth).needs()).isEqualTo("mites on at least 2 dates (now 1)");
        assertThat(ColonyTrend.of(series(FORTNIGHTS, 0, 0, 0, 20)).fit()).isEmpty();
    }

    /**
     * Two dates with equal samples: of 24 mites the later 18 are binomial, Clopper and Pearson 1934:
     * .532887 to .902270 (scipy 1.17.1, beta.ppf(.025, 18, 7) and beta.ppf(.975, 19, 6)).
     */
    @Test
    void twoDates_giveTheExactRateRatioAndNoProjection() {
        ColonyTrend trend = ColonyTrend.of(series(new double[] {0, 1}, 6, 18));
        Estimate growth = (Estimate) trend.growth();
        assertThat(growth.value()).isCloseTo(200, within(1e-9));
        double lower = 1 + growth.lower() / 100;
        double upper = 1 + growth.upper() / 100;
        assertThat(lower / (1 + lower)).isCloseTo(0.532887, within(1e-6));
        assertThat(upper / (1 + upper)).isCloseTo(0.902270, within(1e-6));
        assertThat(trend.crossing(3)).isInstanceOf(NotEnoughData.class);
    }

    /** Two jars of a colony, on the first and the last day of four weeks: growth, but no date ahead. */
    @Test
    void fourWashesOnTwoDates_areTwoDatesAndNothingIsProjected() {
        ColonyTrend trend = ColonyTrend.of(series(new double[] {0, 0, 4, 4}, 4, 5, 10, 11));
        assertThat(((Estimate) trend.growth()).lower()).isPositive();
        assertThat(((NotEnoughData) trend.crossing(6)).needs())
                .isEqualTo("at least 4 dates (now 2)");
        Result oneDate = ColonyTrend.of(series(new double[] {0, 4, 4}, 0, 9, 8)).growth();
        assertThat(((NotEnoughData) oneDate).needs()).contains("mites on at least 2 dates (now 1)");
    }

    /** At 9 and 15 o'clock of a first and a last day. */
    @Test
    void washesHoursApart_areOneDate() {
        double[] hours = {9 / 168.0, 15 / 168.0, 4 + 9 / 168.0, 4 + 15 / 168.0};
        ColonyTrend trend = ColonyTrend.of(series(hours, 4, 5, 10, 11));
        assertThat(trend.doubling()).isEqualTo(new NotEnoughData("at least 4 dates (now 2)"));
        assertThat(trend.crossing(6)).isEqualTo(trend.doubling());
        for (int day = 0; day < 3_000; day++) {
            assertThat(new Sample(day / 7.0, 1, 300).day()).isEqualTo(day);
        }
    }

    @Test
    void impossibleInput_isRefusedWithAReason() {
        assertThatThrownBy(() -> new Sample(0, 1, 0)).hasMessageContaining("0 bees");
        assertThatThrownBy(() -> new Sample(Double.NaN, 1, 300)).hasMessageContaining("week NaN");
        ColonyTrend trend = ColonyTrend.of(series(FORTNIGHTS, 1, 2, 3, 4));
        assertThatThrownBy(() -> trend.crossing(0)).hasMessageContaining("threshold 0.0");
    }
}
