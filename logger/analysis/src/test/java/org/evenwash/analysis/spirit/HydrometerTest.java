package org.evenwash.analysis.spirit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class HydrometerTest {

    @ParameterizedTest
    @CsvSource({"1", "40", "50", "75", "95"})
    void at20CTheReadingIsTheStrength(double reading) {
        assertThat(Hydrometer.ethanol(reading, 20).percentVol()).isCloseTo(reading, within(1e-9));
    }

    /**
     * The rule printed with alcoholometers: near 40 %vol, about 0.4 %vol off for each degree above
     * 20 °C, and on for each below (from memory). At 96 %vol it is about 0.25 to 0.3.
     */
    @ParameterizedTest
    @CsvSource({
        "40, 25, 38.0, 0.15",
        "40, 15, 42.0, 0.15",
        "40, 30, 36.1, 0.3",
        "50, 25, 48.1, 0.2"
    })
    void warmSpiritReadsTooStrong(
            double reading, double celsius, double percentVol, double tolerance) {
        assertThat(Hydrometer.ethanol(reading, celsius).percentVol())
                .isCloseTo(percentVol, within(tolerance));
    }

    /** The correction inverts: spirit of the found strength floats the glass at the mark read. */
    @Test
    void floatsAtTheMarkAgain() {
        Strength found = Hydrometer.ethanol(48, 31);
        double liquid_kgm3 = Strength.density_kgm3(Spirit.ETHANOL, found.massFraction(), 31);
        double mark_kgm3 = Strength.ofPercentVol(Spirit.ETHANOL, 48).density20_kgm3();
        assertThat(liquid_kgm3 * (1 + 25e-6 * 11)).isCloseTo(mark_kgm3, within(1e-9));
    }

    @Test
    void readingsThatNoMixtureGivesAreRefused() {
        assertThatThrownBy(() -> Hydrometer.ethanol(99.9, 10))
                .hasMessageContaining("a mixture of ethanol and water weighs");
        assertThatThrownBy(() -> Hydrometer.ethanol(0, 35))
                .isInstanceOf(IllegalArgumentException.class);
    }
}
