package org.evenwash.analysis.spirit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.evenwash.analysis.spirit.Spirit.ETHANOL;
import static org.evenwash.analysis.spirit.Spirit.PROPANOL_2;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class FlashPointTest {

    /**
     * The printed table (engineeringtoolbox.com "by weight"; ilpi.com/dchas 2015-01-28 "ABV"): per
     * cent as printed, °C. How far the model is from it under either reading is the disagreement
     * that the class comment states.
     */
    @ParameterizedTest
    @CsvSource({
        "5, 62", "10, 49", "20, 36", "30, 29", "40, 26", "50, 24", "60, 22", "70, 21", "80, 20",
        "90, 17", "96, 17"
    })
    void ethanolTable(double percent, double printed_C) {
        FlashPoint byVol = FlashPoint.of(Strength.ofPercentVol(ETHANOL, percent)).orElseThrow();
        FlashPoint byMass = FlashPoint.of(Strength.ofPercentMass(ETHANOL, percent)).orElseThrow();
        assertThat(byVol.model_C()).isCloseTo(printed_C, within(2.0));
        assertThat(byMass.model_C()).isCloseTo(printed_C, within(percent < 20 ? 6.2 : 3.0));
        assertThat(byVol.table_C().orElseThrow()).isCloseTo(printed_C, within(1e-6));
        assertThat(byVol.cautious_C())
                .isLessThanOrEqualTo(printed_C - 3 + 1e-6)
                .isLessThanOrEqualTo(byVol.model_C() - 3);
        // Whichever heading is right, the cautious value lies below the printed one.
        assertThat(byMass.cautious_C()).isLessThan(printed_C);
    }

    /** Methylated spirit and water half and half: dilution does not make it safe on a warm day. */
    @Test
    void halfAndHalfCanBeLitOnAWarmDay() {
        Strength half = Dilution.of(Strength.ofPercentVol(ETHANOL, 95), 1, 1).mixture();
        FlashPoint flash = FlashPoint.of(half).orElseThrow();
        assertThat(flash.model_C()).isBetween(24.0, 26.0);
        assertThat(flash.cautious_C()).isCloseTo(21.2, within(0.1));
    }

    /**
     * Closed cup: neat 53 °F (NIOSH Pocket Guide 0359); 70 % by mass 18.3 to 24 °C (a supplier's
     * safety data sheet, 2015-06-15), "70 %" 18 °C (another's). A table over strengths was not to be
     * had, so 5 °C come off the model.
     */
    @Test
    void propanolHasNoTableSoMoreComesOff() {
        FlashPoint neat = FlashPoint.of(new Strength(PROPANOL_2, 1)).orElseThrow();
        assertThat(neat.model_C()).isCloseTo((53 - 32) / 1.8, within(0.05));
        FlashPoint seventy = FlashPoint.of(Strength.ofPercentMass(PROPANOL_2, 70)).orElseThrow();
        assertThat(seventy.model_C()).isBetween(18.0, 24.0).isCloseTo(19.3, within(0.05));
        assertThat(seventy.cautious_C())
                .isCloseTo(seventy.model_C() - 5, within(1e-12))
                .as("below every printed value")
                .isLessThan(18);
        assertThat(seventy.table_C()).isEmpty();
    }

    /** The azeotrope gives back its own boiling pressure, and van Laar's constants near 2.3, 1.1. */
    @Test
    void propanolConstantsFollowFromTheAzeotrope() {
        FlashPoint.VanLaar laar = FlashPoint.VanLaar.fromAzeotrope(PROPANOL_2, 0.879, 80.37);
        double x = PROPANOL_2.moleFraction(0.879);
        assertThat(x * laar.gamma(x) * PROPANOL_2.vapour().pressure_mmHg(80.37))
                .isCloseTo(760 * x, within(1e-6));
        assertThat(laar.a12()).isCloseTo(2.31, within(0.01));
        assertThat(laar.a21()).isCloseTo(1.12, within(0.01));
    }

    /** Boiling points 78.32, 82.27 and 100 °C; ethanol 5.826 kPa at 20 °C; water 3.158 at 25 °C. */
    @Test
    void antoineConstantsGiveTheBoilingPoints() {
        assertThat(ETHANOL.vapour().temperature_C(760)).isCloseTo(78.32, within(0.05));
        assertThat(PROPANOL_2.vapour().temperature_C(760)).isCloseTo(82.27, within(0.05));
        assertThat(Spirit.WATER.temperature_C(760)).isCloseTo(100, within(0.05));
        assertThat(ETHANOL.vapour().pressure_mmHg(20) * 0.1333224).isCloseTo(5.826, within(0.001));
        assertThat(Spirit.WATER.pressure_mmHg(25) * 0.1333224).isCloseTo(3.158, within(0.001));
    }

    @Test
    void strongerNeverFlashesLater() {
        for (Spirit spirit : Spirit.values()) {
            double before = Double.POSITIVE_INFINITY;
            for (double percentVol = 2; percentVol <= 100; percentVol += 0.5) {
                FlashPoint flash =
                        FlashPoint.of(Strength.ofPercentVol(spirit, percentVol)).orElseThrow();
                assertThat(flash.cautious_C())
                        .isLessThanOrEqualTo(Math.min(before, flash.model_C()) + 1e-9);
                before = flash.model_C();
            }
        }
    }

    /** Any strength in range gives a value or none, never a NaN; seeded. */
    @Test
    void anyStrengthReturns() {
        Random random = new Random(11);
        for (int i = 0; i < 20_000; i++) {
            Spirit spirit = random.nextBoolean() ? ETHANOL : PROPANOL_2;
            double massFraction = Math.pow(random.nextDouble(), 1 + random.nextInt(6));
            Strength strength = new Strength(spirit, massFraction);
            assertThat(strength.percentVol()).isBetween(0.0, 100.0);
            FlashPoint.of(strength)
                    .ifPresent(
                            flash ->
                                    assertThat(flash.cautious_C())
                                            .isFinite()
                                            .isLessThan(flash.model_C()));
        }
    }

    @Test
    void waterHasNone() {
        assertThat(FlashPoint.of(new Strength(ETHANOL, 0))).isEmpty();
        assertThat(FlashPoint.of(new Strength(ETHANOL, 1e-9))).isEmpty();
    }
}
