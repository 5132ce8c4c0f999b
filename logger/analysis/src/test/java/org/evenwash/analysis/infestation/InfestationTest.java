package org.evenwash.analysis.infestation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.Result.Side;
import org.evenwash.analysis.ResultText;
import org.evenwash.analysis.recovery.PredictiveBeta;
import org.evenwash.analysis.recovery.RecountSummary;
import org.evenwash.analysis.recovery.WashPair;
import org.junit.jupiter.api.Test;

class InfestationTest {

    private static final BeesInSample COUNTED = BeesInSample.counted(300);

    @Test
    void twoMitesOn300Bees_readAsEverywhere() {
        assertThat(ResultText.of(Infestation.counted(2, 300), Quantity.INFESTATION))
                .isEqualTo("0.67 mites per 100 bees (95 %: 0.08–2.41)");
    }

    @Test
    void noMites_isABoundOnly() {
        assertThat(Infestation.counted(0, 300))
                .isInstanceOfSatisfying(
                        Bound.class,
                        bound -> {
                            assertThat(bound.side()).isEqualTo(Side.AT_MOST);
                            assertThat(bound.limit()).isCloseTo(3.6889 / 3, within(1e-4));
                        });
    }

    @Test
    void beesMissingOrNone_isRefusedInWords() {
        assertThat(ResultText.of(Infestation.counted(2, Double.NaN), Quantity.INFESTATION))
                .isEqualTo("not enough data: needs the number of bees in the sample");
        assertThat(ResultText.of(Infestation.counted(2, 0), Quantity.INFESTATION))
                .isEqualTo("not enough data: needs a number of bees above 0 (now 0.0)");
        assertThatThrownBy(() -> Infestation.counted(-1, 300))
                .hasMessage("mites must be from 0 to 1000000, not -1");
    }

    @Test
    void decimalBees_areAcceptedAndLabelledEstimated() {
        assertThat(Infestation.counted(17, 317.4).remarks()).contains(Infestation.DECIMAL_BEES);
        assertThat(Infestation.counted(17, 317).remarks())
                .containsExactly(Infestation.NOT_CORRECTED);
    }

    @Test
    void uncertainBees_widenTheIntervalAroundTheSameValue() {
        var exact = (Estimate) Infestation.estimated(9, COUNTED);
        var rough = (Estimate) Infestation.estimated(9, new BeesInSample(300, 0.15));
        var counted = (Estimate) Infestation.counted(9, 300);
        assertThat(exact.lower()).isCloseTo(counted.lower(), within(1e-12));
        assertThat(exact.upper()).isCloseTo(counted.upper(), within(1e-12));
        assertThat(rough.value()).isEqualTo(exact.value());
        assertThat(rough.lower()).isLessThan(exact.lower());
        assertThat(rough.upper()).isGreaterThan(exact.upper());
    }

    @Test
    void lowRecovery_isNotCorrectedForButWarnedOf() {
        var lowMean = new PredictiveBeta(40, 60);
        var lowLimit = new PredictiveBeta(3, 2);
        for (var recovery : List.of(lowMean, lowLimit)) {
            Result result = Infestation.corrected(6, COUNTED, recovery);
            assertThat(((Estimate) result).value()).isEqualTo(2);
            assertThat(result.remarks()).contains(Infestation.LOW_RECOVERY);
        }
    }

    @Test
    void wildCalibrations_giveNoCorrectedInterval() {
        var oneWash = List.of(new WashPair(20, 2));
        var singleMites = List.of(new WashPair(1, 0), new WashPair(1, 0), new WashPair(0, 1));
        var allOrNone =
                List.of(
                        new WashPair(6, 0),
                        new WashPair(0, 6),
                        new WashPair(6, 0),
                        new WashPair(0, 6));
        var nothing = List.<WashPair>of();
        for (var calibration : List.of(oneWash, singleMites, allOrNone, nothing)) {
            Result result = Infestation.corrected(6, COUNTED, RecountSummary.of(calibration));
            assertThat(result.remarks()).contains(Infestation.RECOVERY_UNKNOWN);
            assertThat(((Estimate) result).value()).isEqualTo(2);
        }
    }

    @Test
    void thinCalibration_correctsButSaysSo() {
        var thin = List.of(new WashPair(9, 1), new WashPair(8, 1), new WashPair(9, 0));
        Result result = Infestation.corrected(6, COUNTED, RecountSummary.of(thin));
        assertThat(((Estimate) result).value()).isGreaterThan(2);
        assertThat(result.remarks()).contains(Infestation.PROVISIONAL_RECOVERY);
    }

    @Test
    void noMitesWithUncertainRecovery_isAWiderBoundThanWithout() {
        var law = new PredictiveBeta(45, 5);
        var bound = (Bound) Infestation.corrected(0, new BeesInSample(300, 0.08), law);
        assertThat(bound.limit()).isGreaterThan(3.6889 / 3 / law.mean());
    }

    @Test
    void knownBeesAndRecovery_approachGarwoodWithoutMites() {
        double certain = CorrectedRate.of(0, COUNTED, new PredictiveBeta(1e9, 1e-3)).upper();
        assertThat(certain).isCloseTo(PoissonRate.of(0, 300).upper(), within(1e-8));
    }

    @Test
    void moreInfestedBeesThanBees_isRefused() {
        assertThat(Infestation.infestedBees(11, 10)).isInstanceOf(NotEnoughData.class);
        assertThat(Infestation.infestedBees(1, 0)).isInstanceOf(NotEnoughData.class);
    }

    @Test
    void infestedBees_haveExactLimitsInPerCent() {
        var share = (Estimate) Infestation.infestedBees(15, 148);
        assertThat(share.upper()).isCloseTo(16.17, within(0.01));
    }
}
