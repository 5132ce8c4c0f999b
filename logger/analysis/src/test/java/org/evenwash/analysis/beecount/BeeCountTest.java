package org.evenwash.analysis.beecount;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.infestation.BeesInSample;
import org.evenwash.analysis.numeric.Quantiles;
import org.junit.jupiter.api.Test;

class BeeCountTest {

    private static final double[] GRAMS = {35.2, 41.8, 29.6, 38.3, 44.1, 33};
    private static final double[] BEES = {271, 318, 236, 290, 349, 250};

    @Test
    void oneSample_givesNoInterval() {
        assertThat(BeeCount.atFillLine(298)).isInstanceOf(NotEnoughData.class);
        assertThat(BeeCount.sampleAtFillLine(298)).isEmpty();
        assertThat(FillLine.of(298).logSd()).isNaN();
    }

    @Test
    void twoSamples_giveAValueWithoutInterval() {
        var result = (Estimate) BeeCount.atFillLine(290, 310);
        assertThat(result.value()).isEqualTo(300);
        assertThat(result.upper()).isInfinite();
        assertThat(BeeCount.sampleAtFillLine(290, 310)).isEmpty();
    }

    @Test
    void fewerThanFiveSamples_areProvisional() {
        assertThat(BeeCount.atFillLine(290, 310, 300, 295).remarks())
                .contains(BeeCount.PROVISIONAL);
        assertThat(BeeCount.sampleAtFillLine(290, 310, 300, 295).orElseThrow().remarks())
                .contains(BeeCount.PROVISIONAL);
        assertThat(BeeCount.atFillLine(290, 310, 300, 295, 301).remarks()).isEmpty();
        assertThat(BeeCount.sampleAtFillLine(290, 310, 300, 295, 301).orElseThrow().remarks())
                .isEmpty();
    }

    @Test
    void equalCounts_stillLeaveABeeOfDoubt() {
        var result = (Estimate) BeeCount.atFillLine(300, 300, 300, 300, 300);
        double half = Quantiles.student95(4) * Math.sqrt(1.2);
        assertThat(result.upper() - result.value()).isCloseTo(half, within(1e-9));
        var mass =
                (Estimate)
                        BeeCount.byMass(
                                new double[] {30, 40, 50}, new double[] {240, 320, 400}, 40);
        assertThat(mass.upper()).isGreaterThan(320 + Quantiles.student95(2));
    }

    @Test
    void sampleOutsideTheCalibration_isFlagged() {
        assertThat(BeeCount.byMass(GRAMS, BEES, 40).remarks()).isEmpty();
        assertThat(BeeCount.byMass(GRAMS, BEES, 58).remarks())
                .singleElement()
                .asString()
                .startsWith("Extrapolated");
        assertThat(BeeCount.byMass(GRAMS, BEES, 20).remarks()).isNotEmpty();
    }

    @Test
    void scaleWithATareError_isNoticedFromSixSamplesOn() {
        double[] tared = GRAMS.clone();
        for (int i = 0; i < tared.length; i++) {
            tared[i] += 15;
        }
        assertThat(BeeCount.byMass(tared, BEES, 55).remarks())
                .singleElement()
                .asString()
                .contains("not in proportion");
    }

    /** scipy 1.17.1, stats.linregress and stats.t.sf with 4 degrees of freedom. */
    @Test
    void straightLine_asByScipy() {
        StraightLine line = StraightLine.of(GRAMS, BEES);
        assertThat(line.intercept()).isCloseTo(1.08372446470878, within(1e-9));
        assertThat(line.interceptP()).isCloseTo(0.9630150243831235, within(1e-9));
    }

    @Test
    void sampleForAnInfestation_carriesItsSpread() {
        BeesInSample bees = BeeCount.sampleByMass(GRAMS, BEES, 40).orElseThrow();
        assertThat(bees.number()).isCloseTo(308.83, within(0.01));
        // Half the log width of the prediction interval, as a normal law would have it.
        assertThat(bees.logSd()).isCloseTo(18.73 / 308.83 / 1.96, within(1e-3));
    }

    @Test
    void columnsOfDifferentLength_areRefusedInWords() {
        assertThatThrownBy(() -> BeeCount.byMass(GRAMS, new double[] {1, 2}, 40))
                .hasMessage("6 values of grams but 2 of bees: each row needs both");
    }
}
