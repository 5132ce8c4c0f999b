package org.evenwash.analysis.published;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.evenwash.analysis.apiary.DetectionSize;
import org.evenwash.analysis.infestation.PoissonRate;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * COLOSS BEEBOOK: Pirk, C. W. W. et al. (2013) Statistical guidelines for Apis mellifera research, J.
 * Apic. Res. 52(4), §2.2; Dietemann, V. et al. (2013) Standard methods for varroa research, J. Apic.
 * Res. 52(1), §4.2.3.1.2.3.
 */
class ColossBeebook2013Test {

    @Test
    void beesToDetectAPrevalence_asPrinted() {
        assertThat(DetectionSize.bees(0.05, 0.95, 1)).isEqualTo(59);
        assertThat(DetectionSize.bees(0.01, 0.99, 1)).isEqualTo(459);
    }

    /** Printed as 65 % and 78 %: rounded up and down from these. */
    @Test
    void confidenceOf20And30Bees() {
        assertThat(DetectionSize.confidence(0.05, 20)).isCloseTo(0.65, within(0.01));
        assertThat(DetectionSize.confidence(0.05, 30)).isCloseTo(0.78, within(0.01));
    }

    /** The guidelines replace the prevalence P by 0.8 P when four in five infested bees are seen. */
    @Test
    void imperfectDetection_isASmallerPrevalence() {
        assertThat(DetectionSize.bees(0.05, 0.95, 0.8))
                .isEqualTo(DetectionSize.bees(0.04, 0.95, 1));
    }

    @ParameterizedTest
    @CsvSource({
        "0.01, 0.90, 230",
        "0.01, 0.95, 299",
        "0.02, 0.95, 149",
        "0.03, 0.99, 152",
        "0.10, 0.90, 22",
        "0.10, 0.95, 29",
        "0.10, 0.99, 44"
    })
    void beesByTheSameFormula_roundedUp(double prevalence, double confidence, long bees) {
        assertThat(DetectionSize.bees(prevalence, confidence, 1)).isEqualTo(bees);
    }

    @Test
    void workedExample_13mitesOn303bees() {
        assertThat(PoissonRate.of(13, 303).value()).isCloseTo(4.3, within(0.05));
    }

    /** Common practice, no source: two mites in 300 bees are 0.67, one is 0.33 per 100. */
    @ParameterizedTest
    @CsvSource({"2, 300, 0.67", "1, 300, 0.33"})
    void mitesIn300Bees(int mites, double bees, double rate) {
        assertThat(PoissonRate.of(mites, bees).value()).isCloseTo(rate, within(0.005));
    }
}
