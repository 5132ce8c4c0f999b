package org.evenwash.analysis.speed;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultText;
import org.evenwash.analysis.speed.SpeedBias.Reading;
import org.junit.jupiter.api.Test;

class SpeedBiasTest {
    /**
     * Invented readings; limits by R 4.2.2: d &lt;- c(181,182,179.5,121,120.2); r &lt;-
     * c(178.4,179.9,178.1,118.6,118.9); t.test(100*(d-r)/r).
     */
    @Test
    void displayThatReadsHigh_givesTheMeanDifferenceWithStudentsLimits() {
        Result.Estimate bias =
                (Result.Estimate)
                        SpeedBias.of(
                                List.of(
                                        new Reading(181, 178.4),
                                        new Reading(182, 179.9),
                                        new Reading(179.5, 178.1),
                                        new Reading(121, 118.6),
                                        new Reading(120.2, 118.9)));

        assertThat(bias.value()).isCloseTo(1.305551, within(5e-7));
        assertThat(bias.lower()).isCloseTo(0.7255941, within(5e-8));
        assertThat(bias.upper()).isCloseTo(1.8855075, within(5e-8));
        assertThat(ResultText.of(bias, Quantity.SPEED_BIAS)).isEqualTo("1.31 % (95 %: 0.72–1.89)");
    }

    @Test
    void twoReadings_areNotEnough() {
        Result result = SpeedBias.of(List.of(new Reading(180, 178), new Reading(180, 179)));

        assertThat(result)
                .isInstanceOfSatisfying(
                        Result.NotEnoughData.class,
                        none ->
                                assertThat(none.needs())
                                        .isEqualTo("at least 3 pairs of readings (now 2)"));
    }

    @Test
    void equalReadingsAtOneSpeed_stillHaveAnInterval_andSayWhatTheyLeaveOpen() {
        Reading same = new Reading(180, 180);
        Result.Estimate bias = (Result.Estimate) SpeedBias.of(List.of(same, same, same));

        assertThat(bias.value()).isZero();
        assertThat(bias.lower()).isNegative();
        assertThat(bias.remarks()).anyMatch(remark -> remark.startsWith("All at one speed"));
    }

    @Test
    void readingOfNothing_isRefused() {
        assertThatThrownBy(() -> new Reading(180, 0)).hasMessageContaining("above 0");
    }
}
