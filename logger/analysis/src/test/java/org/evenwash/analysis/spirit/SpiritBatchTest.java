package org.evenwash.analysis.spirit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.evenwash.analysis.spirit.Spirit.ETHANOL;
import static org.evenwash.analysis.spirit.Spirit.PROPANOL_2;

import java.util.List;
import org.evenwash.analysis.spirit.SpiritBatch.Evaporation;
import org.evenwash.analysis.spirit.SpiritBatch.TopUp;
import org.evenwash.analysis.spirit.SpiritBatch.Wash;
import org.junit.jupiter.api.Test;

class SpiritBatchTest {
    private static final Strength HALF = Strength.ofPercentVol(ETHANOL, 50);
    private static final Strength LABEL = Strength.ofPercentVol(ETHANOL, 95);

    @Test
    void washesTakeVolumeAndKeepTheStrength() {
        SpiritBatch batch = SpiritBatch.fresh(300, HALF).after(List.of(new Wash(15), new Wash(20)));
        assertThat(batch.uses()).isEqualTo(2);
        assertThat(batch.volume_mL()).isEqualTo(265);
        assertThat(batch.weakest()).isEqualTo(HALF);
        assertThat(batch.strongest()).isEqualTo(HALF);
    }

    @Test
    void evaporationOpensTheRange_weakForWashing_unchangedForFire() {
        SpiritBatch batch = SpiritBatch.fresh(300, HALF).after(new Evaporation(30));
        assertThat(batch.strongest()).isEqualTo(HALF);
        assertThat(batch.weakest().percentVol()).isBetween(43.0, 46.0);
        assertThat(batch.flashPoint()).isEqualTo(FlashPoint.of(HALF));
        // By mass: 30 mL of neat ethanol gone, nothing else.
        double before_g = 0.3 * HALF.density20_kgm3();
        double after_g = batch.volume_mL() / 1000 * batch.weakest().density20_kgm3();
        assertThat(before_g - after_g).isCloseTo(0.03 * 789.239, within(1e-3));
    }

    @Test
    void topUpsMixByMassAsADilutionDoes() {
        SpiritBatch batch = SpiritBatch.fresh(200, HALF).after(new TopUp(100, LABEL));
        double spirit_mL = 200 * 0.50 + 100 * 0.95;
        assertThat(batch.weakest().percentVol())
                .isCloseTo(100 * spirit_mL / batch.volume_mL(), within(1e-6));
        assertThat(batch.volume_mL()).isBetween(293.0, 300.0);
        SpiritBatch watered =
                SpiritBatch.fresh(1, LABEL).after(new TopUp(1, new Strength(ETHANOL, 0)));
        assertThat(watered.weakest().percentVol())
                .isCloseTo(Dilution.of(LABEL, 1, 1).mixture().percentVol(), within(1e-9));
    }

    @Test
    void evaporationOfAllTheSpiritLeavesWater() {
        SpiritBatch batch = SpiritBatch.fresh(100, HALF).after(new Evaporation(90));
        assertThat(batch.weakest().massFraction()).isZero();
        assertThat(batch.volume_mL()).isPositive();
        SpiritBatch gone =
                SpiritBatch.fresh(100, new Strength(ETHANOL, 1)).after(new Evaporation(100));
        assertThat(gone.volume_mL()).isCloseTo(0, within(1e-6));
        assertThat(gone.after(new TopUp(0, HALF)).volume_mL()).isCloseTo(0, within(1e-6));
    }

    @Test
    void impossibleEventsAreRefused() {
        SpiritBatch batch = SpiritBatch.fresh(100, HALF);
        assertThatThrownBy(() -> batch.after(new Wash(101)))
                .hasMessageContaining("101.0 mL cannot leave a batch of 100.0 mL");
        assertThatThrownBy(() -> batch.after(new TopUp(1, new Strength(PROPANOL_2, 1))))
                .hasMessageContaining("start a new batch");
        assertThatThrownBy(() -> new Wash(-1)).hasMessageContaining("at least 0 mL");
        assertThatThrownBy(() -> SpiritBatch.fresh(0, HALF)).hasMessageContaining("above 0 mL");
    }
}
