package org.evenwash.analysis.spirit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.evenwash.analysis.spirit.Spirit.ETHANOL;
import static org.evenwash.analysis.spirit.Spirit.PROPANOL_2;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class StrengthTest {

    /**
     * OIML R 22 at 20 °C: %vol, % by mass, kg/m³, computed from the Recommendation's formula with
     * scipy; 948.05, 930.14 and 807.42 are the printed table's entries for 40, 50 and 96 %vol.
     */
    @ParameterizedTest
    @CsvSource({
        "10, 8.015, 984.710", "40, 33.300, 948.045", "50, 42.426, 930.142", "70, 62.386, 885.562",
        "75, 67.820, 872.793", "95, 92.408, 811.380", "96, 93.838, 807.420", "0, 0, 998.201",
        "100, 100, 789.239", "12.440, 10, 981.848", "47.395, 40, 935.145", "57.889, 50, 913.771",
        "76.951, 70, 867.611", "93.266, 90, 817.883"
    })
    void oimlR22At20C(double percentVol, double percentMass, double density_kgm3) {
        Strength byMass = Strength.ofPercentMass(ETHANOL, percentMass);
        assertThat(byMass.percentVol()).isCloseTo(percentVol, within(0.0011));
        assertThat(byMass.density20_kgm3()).isCloseTo(density_kgm3, within(0.011));
        Strength byVol = Strength.ofPercentVol(ETHANOL, percentVol);
        assertThat(byVol.percentMass()).isCloseTo(percentMass, within(0.0011));
    }

    /** CRC Handbook, 102nd ed., concentrative properties of aqueous solutions, g/cm³ at 20 °C. */
    @ParameterizedTest
    @CsvSource({
        "5, 0.9893",
        "10, 0.9819",
        "20, 0.9687",
        "30, 0.9539",
        "40, 0.9352",
        "50, 0.9139",
        "60, 0.8911",
        "70, 0.8676",
        "80, 0.8436",
        "90, 0.8180",
        "100, 0.7893"
    })
    void ethanolAgreesWithTheCrcHandbook(double percentMass, double density_gcm3) {
        assertThat(Strength.ofPercentMass(ETHANOL, percentMass).density20_kgm3())
                .isCloseTo(1000 * density_gcm3, within(0.25));
    }

    /**
     * Away from 20 °C. Neat ethanol at 0 and 40 °C: values printed with public implementations of
     * OIML R 22 (806.215, 771.93). Water: 999.84, 999.70, 997.05, 995.65 in every handbook. Mixtures:
     * International Critical Tables (1928), g/mL, from memory; its unit of volume is 1.000028 cm³.
     */
    @ParameterizedTest
    @CsvSource({
        "100, 0, 806.215, 0.001",
        "100, 40, 771.93, 0.01",
        "0, 0, 999.84, 0.01",
        "0, 10, 999.70, 0.01",
        "0, 25, 997.05, 0.01",
        "0, 30, 995.65, 0.01",
        "50, 25, 909.85, 0.3",
        "50, 30, 905.80, 0.3",
        "50, 40, 897.50, 0.3",
        "20, 10, 972.52, 0.4",
        "20, 30, 963.95, 0.4",
        "80, 10, 851.97, 0.4",
        "80, 30, 834.73, 0.4"
    })
    void oimlR22AwayFrom20C(
            double percentMass, double celsius, double density_kgm3, double tolerance_kgm3) {
        assertThat(Strength.density_kgm3(ETHANOL, percentMass / 100, celsius))
                .isCloseTo(density_kgm3, within(tolerance_kgm3));
    }

    /** USP alcoholometric table (15.56 °C), a different basis: within a tenth of a point. */
    @ParameterizedTest
    @CsvSource({"20, 16.27", "30, 24.67"})
    void uspTableIsClose(double percentVol, double percentMass) {
        assertThat(Strength.ofPercentVol(ETHANOL, percentVol).percentMass())
                .isCloseTo(percentMass, within(0.1));
    }

    @ParameterizedTest
    @CsvSource({"0", "0.001", "3", "17.3", "50", "77", "99.999", "100"})
    void volAndMassConvertBackAndForth(double percentVol) {
        for (Spirit spirit : Spirit.values()) {
            assertThat(Strength.ofPercentVol(spirit, percentVol).percentVol())
                    .isCloseTo(percentVol, within(1e-9));
        }
    }

    /** 70 %vol rubbing alcohol is about 64 % by mass with the CRC densities (0.874 g/cm³). */
    @Test
    void propanolUsesTheCrcTable() {
        assertThat(Strength.ofPercentMass(PROPANOL_2, 60).density20_kgm3())
                .isCloseTo(882.4, within(1e-9));
        assertThat(Strength.ofPercentMass(PROPANOL_2, 20).density20_kgm3())
                .isCloseTo(969.6, within(1e-9));
        Strength seventy = Strength.ofPercentVol(PROPANOL_2, 70);
        assertThat(seventy.percentMass() / 100 * seventy.density20_kgm3() / 784.8)
                .isCloseTo(0.70, within(1e-9));
        assertThat(seventy.percentMass()).isBetween(62.5, 64.5);
    }

    @Test
    void impossibleStrengthsAreRefusedWithTheReason() {
        assertThatThrownBy(() -> Strength.ofPercentVol(ETHANOL, 101))
                .hasMessageContaining("between 0 and 100 %vol, not 101");
        assertThatThrownBy(() -> Strength.ofPercentMass(ETHANOL, Double.NaN))
                .isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> Strength.ofDensity(ETHANOL, 1001, 20))
                .hasMessageContaining("weighs 789.2 to 998.2 kg/m³, not 1001");
        assertThatThrownBy(() -> Strength.ofDensity(PROPANOL_2, 900, 25))
                .hasMessageContaining("at 20 °C only");
        assertThatThrownBy(() -> Strength.ofDensity(ETHANOL, 900, 41))
                .hasMessageContaining("−20 to 40 °C");
    }
}
