package org.evenwash.analysis.vectors;

import static org.assertj.core.api.Assertions.assertThat;

import org.assertj.core.data.Percentage;
import org.evenwash.analysis.infestation.BeesInSample;
import org.evenwash.analysis.infestation.CorrectedRate;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.recovery.PredictiveBeta;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The closed form stays near the integral that it stands for, also where both are at their worst. */
class SplitGammaTest {

    private static final Percentage NEAR = Percentage.withPercentage(5);

    @ParameterizedTest
    @CsvSource({
        "1, 0.15, 12, 8",
        "2, 0.03, 12, 8",
        "6, 0.10, 28.5, 3.1",
        "20, 0.05, 120, 9",
        "60, 0.15, 18, 6"
    })
    void closedForm_isWithinFivePercentOfTheIntegral(int mites, double u, double a, double b) {
        var bees = new BeesInSample(300, u);
        var recovery = new PredictiveBeta(a, b);
        CorrectedRate closed = CorrectedRate.of(mites, bees, recovery);
        Limits integral = new SplitGamma(mites, bees, recovery).limits();
        assertThat(closed.lower()).isCloseTo(integral.lower(), NEAR);
        assertThat(closed.upper()).isCloseTo(integral.upper(), NEAR);
    }
}
