package org.evenwash.analysis.recovery;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.Result.Side;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class RecoveryTest {

    @Test
    void everySecondWashEmpty_isALowerLimitOnly() {
        var pairs = List.of(new WashPair(7, 0), new WashPair(12, 0), new WashPair(0, 0));
        var bound = (Bound) Recovery.exhaustive(pairs);
        assertThat(bound.side()).isEqualTo(Side.AT_LEAST);
        // With all of 19 mites off at first, the exact lower limit is 0.025^(1/19).
        assertThat(bound.limit()).isCloseTo(100 * Math.pow(0.025, 1 / 19.0), within(1e-9));
    }

    @Test
    void noMitesAtAll_isRefused() {
        var pairs = List.of(new WashPair(0, 0));
        assertThat(Recovery.exhaustive(pairs)).isInstanceOf(NotEnoughData.class);
        assertThat(Recovery.equalEffort(pairs)).isInstanceOf(NotEnoughData.class);
        assertThat(Recovery.withSecondWashOf(0.7, List.of())).isInstanceOf(NotEnoughData.class);
    }

    @Test
    void oneWash_isShownWithItsCautionButNotForAVerdict() {
        var pairs = List.of(new WashPair(40, 4));
        assertThat(Recovery.exhaustive(pairs).remarks()).contains(Recovery.VARIATION_UNKNOWN);
        assertThat(Recovery.exhaustiveForVerdict(pairs)).isInstanceOf(NotEnoughData.class);
    }

    @Test
    void verdict_needsFourWashesAndThirtyMites() {
        assertThat(Recovery.exhaustiveForVerdict(washes(4, 7, 1))).isInstanceOf(Estimate.class);
        assertThat(Recovery.exhaustiveForVerdict(washes(4, 6, 1)))
                .isInstanceOfSatisfying(
                        NotEnoughData.class,
                        refusal -> assertThat(refusal.needs()).endsWith("(now 4 and 28)"));
        assertThat(Recovery.exhaustiveForVerdict(washes(3, 20, 1)))
                .isInstanceOf(NotEnoughData.class);
    }

    @Test
    void moreMitesTheSecondTime_isKeptAndFlagged() {
        var pairs = new ArrayList<>(washes(4, 18, 2));
        pairs.add(new WashPair(2, 9));
        Result result = Recovery.exhaustive(pairs);
        assertThat(result).isInstanceOf(Estimate.class);
        assertThat(result.remarks()).anyMatch(remark -> remark.contains("check the labels"));
    }

    /** What a second wash of recovery r₂ makes of a true recovery r: π = r / (r + (1−r)·r₂). */
    @ParameterizedTest
    @CsvSource({"0.9, 0.7, 0.928", "0.7, 0.7, 0.769", "0.6, 0.5, 0.75"})
    void secondWashThatMissesMites_isInverted(double truth, double second, double seen) {
        assertThat(truth / (truth + (1 - truth) * second)).isCloseTo(seen, within(5e-4));
        assertThat(Recovery.inverted(seen, second)).isCloseTo(truth, within(2e-3));
    }

    @Test
    void secondWashOfKnownRecovery_lowersEstimateAndLimits() {
        var exhaustive = (Estimate) Recovery.exhaustive(washes(6, 18, 2));
        var partly = (Estimate) Recovery.withSecondWashOf(0.7, washes(6, 18, 2));
        assertThat(partly.value()).isLessThan(exhaustive.value());
        assertThat(partly.lower()).isLessThan(exhaustive.lower());
        assertThatThrownBy(() -> Recovery.withSecondWashOf(0, washes(6, 18, 2)))
                .hasMessageContaining("above 0 and at most 1");
    }

    @Test
    void equalEffort_isOneMinusTheRatio() {
        var result = (Estimate) Recovery.equalEffort(washes(6, 18, 2));
        assertThat(result.value()).isCloseTo(100 * (1 - 2 / 18.0), within(1e-9));
    }

    @Test
    void equalEffortWithoutDecrease_isOnlyAnUpperLimit() {
        var bound = (Bound) Recovery.equalEffort(washes(4, 6, 7));
        assertThat(bound.side()).isEqualTo(Side.AT_MOST);
        assertThat(bound.limit()).isBetween(0.0, 100.0);
    }

    @Test
    void threePasses_needMitesAndADecrease() {
        assertThat(Recovery.threePasses(60, 14, 3)).isInstanceOf(Estimate.class);
        assertThat(Recovery.threePasses(10, 4, 1)).isInstanceOf(NotEnoughData.class);
        assertThat(Recovery.threePasses(20, 22, 25)).isInstanceOf(NotEnoughData.class);
        assertThat(Recovery.threePasses(40, 0, 0)).isInstanceOf(NotEnoughData.class);
    }

    @Test
    void tenWashes_reportTheCorrelationWithinAWash() {
        assertThat(Recovery.exhaustive(washes(10, 18, 2)).remarks())
                .anyMatch(remark -> remark.startsWith("Correlation of mites within a wash: 0.000"));
        assertThat(Recovery.exhaustive(washes(9, 18, 2)).remarks()).isEmpty();
    }

    @Test
    void washesMoreAlikeThanChance_haveNoCorrelation() {
        assertThat(BetaBinomial.of(washes(8, 18, 2)).rho()).isZero();
        assertThat(BetaBinomial.of(washes(8, 18, 0)).rho()).isNaN();
        assertThat(BetaBinomial.of(washes(8, 18, 0)).mu()).isEqualTo(1);
    }

    @Test
    void calibrationOfOneWash_hasNoSpreadAndNoPredictiveLaw() {
        RecountSummary one = RecountSummary.of(washes(1, 18, 2));
        assertThat(one.phiRaw()).isNaN();
        assertThat(one.phi()).isEqualTo(1);
        assertThat(one.pearsonP()).isEqualTo(1);
        assertThat(PredictiveBeta.from(one)).isEmpty();
    }

    private static List<WashPair> washes(int number, int first, int second) {
        var pairs = new ArrayList<WashPair>();
        for (int i = 0; i < number; i++) {
            pairs.add(new WashPair(first, second));
        }
        return pairs;
    }
}
