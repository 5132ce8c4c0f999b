package org.evenwash.analysis;

import static org.assertj.core.api.Assertions.assertThat;

import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.Result.Side;
import org.evenwash.analysis.infestation.Infestation;
import org.junit.jupiter.api.Test;

class ResultTextTest {

    @Test
    void limits_areRoundedOutward() {
        var two = new Estimate(2 / 3.0, 0.0807364, 2.4082292);
        assertThat(ResultText.of(two, Quantity.INFESTATION))
                .isEqualTo("0.67 mites per 100 bees (95 %: 0.08–2.41)");
        var barely = new Estimate(1, 0.4999, 2.0001);
        assertThat(ResultText.interval(barely, Quantity.INFESTATION)).isEqualTo("95 %: 0.49–2.01");
    }

    @Test
    void limitThatIsRoundAlready_staysDespiteBinaryNoise() {
        var round = new Estimate(0.1, 0.07 + 1e-17, 0.1 + 0.2);
        assertThat(ResultText.interval(round, Quantity.PLAIN)).isEqualTo("95 %: 0.07–0.30");
    }

    @Test
    void noMiteFound_isABoundAndNeverAnEstimateOfNothing() {
        assertThat(ResultText.of(Infestation.counted(0, 300), Quantity.INFESTATION))
                .isEqualTo("0, up to 1.23 mites per 100 bees");
    }

    @Test
    void smallValue_isNotPrintedAsNothing() {
        assertThat(ResultText.of(Infestation.counted(1, 90_000), Quantity.INFESTATION))
                .isEqualTo("0.001 mites per 100 bees (95 %: 0.00–0.01)");
        assertThat(ResultText.value(0, Quantity.GROWTH)).isEqualTo("0.00");
    }

    @Test
    void openEnds_areWords() {
        double never = Double.POSITIVE_INFINITY;
        assertThat(ResultText.of(new Estimate(58.2, 48, never), Quantity.AGITATION_TIME))
                .isEqualTo("58 s (95 %: from 48, no upper limit)");
        assertThat(ResultText.of(new Estimate(20, -never, 60), Quantity.EFFICACY))
                .isEqualTo("20.00 % (95 %: up to 60.00, no lower limit)");
        assertThat(ResultText.of(new Estimate(1.5, -never, never), Quantity.INFESTATION))
                .isEqualTo("1.50 mites per 100 bees (interval not determined)");
    }

    @Test
    void percentages_stayWithinWhatTheyCanBe() {
        assertThat(ResultText.upper(99.9991, Quantity.RECOVERY)).isEqualTo("100.00");
        assertThat(ResultText.lower(0.001, Quantity.RECOVERY)).isEqualTo("0.00");
        assertThat(ResultText.lower(-0.001, Quantity.EFFICACY)).isEqualTo("-0.01");
    }

    @Test
    void negativeLimits_areJoinedByAWord() {
        assertThat(ResultText.of(new Estimate(10, -33.333, 60.001), Quantity.EFFICACY))
                .isEqualTo("10.00 % (95 %: -33.34 to 60.01)");
    }

    @Test
    void boundsAndRefusals_sayWhatTheyAre() {
        assertThat(ResultText.of(new Bound(Side.AT_LEAST, 89.427), Quantity.RECOVERY))
                .isEqualTo("at least 89.42 %");
        assertThat(ResultText.of(new Bound(Side.AT_MOST, 15), Quantity.COLONIES))
                .isEqualTo("at most 15 colonies");
        assertThat(ResultText.of(new NotEnoughData("3 more washes"), Quantity.RECOVERY))
                .isEqualTo("not enough data: needs 3 more washes");
    }
}
