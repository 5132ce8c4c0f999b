package org.evenwash.analysis.spirit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.evenwash.analysis.spirit.Spirit.ETHANOL;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DilutionTest {

    /**
     * Common practice, no source: methylated spirit and water in equal parts. Figures computed from
     * OIML R 22 with scipy: 95, 96 and 90 %vol give 48.9, 49.5 and 46.2 %vol; 95 %vol gives 41.43 %
     * by mass at 2.9 % contraction.
     */
    @ParameterizedTest
    @CsvSource({"95, 48.9", "96, 49.5", "90, 46.2"})
    void equalPartsComeOutAboveHalf(double label_percentVol, double mixture_percentVol) {
        Dilution half = Dilution.of(Strength.ofPercentVol(ETHANOL, label_percentVol), 1, 1);
        assertThat(half.mixture().percentVol()).isCloseTo(mixture_percentVol, within(0.05));
    }

    @Test
    void volumesDoNotAdd() {
        Dilution half = Dilution.of(Strength.ofPercentVol(ETHANOL, 95), 500, 500);
        assertThat(half.mixture().percentMass()).isCloseTo(41.43, within(0.005));
        assertThat(half.contraction_percent()).isCloseTo(2.9, within(0.05));
        assertThat(half.volume_mL()).isCloseTo(971, within(0.5));
    }

    @Test
    void waterToAddBringsTheLabelDownToTheWantedStrength() {
        Strength label = Strength.ofPercentVol(ETHANOL, 95);
        Strength wanted = Strength.ofPercentVol(ETHANOL, 75);
        double water = Dilution.water_mLPerSpirit_mL(label, wanted);
        assertThat(Dilution.of(label, 1, water).mixture().percentVol()).isCloseTo(75, within(1e-9));
    }

    @Test
    void impossibleMixturesAreRefused() {
        Strength label = Strength.ofPercentVol(ETHANOL, 70);
        assertThatThrownBy(() -> Dilution.of(label, 0, 0)).hasMessageContaining("not both 0");
        assertThatThrownBy(() -> Dilution.of(label, -1, 2))
                .isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(
                        () ->
                                Dilution.water_mLPerSpirit_mL(
                                        label, Strength.ofPercentVol(ETHANOL, 75)))
                .hasMessageContaining("water can only thin");
    }
}
