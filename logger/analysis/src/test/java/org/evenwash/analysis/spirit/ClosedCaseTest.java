package org.evenwash.analysis.spirit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.evenwash.analysis.spirit.Spirit.ETHANOL;
import static org.evenwash.analysis.spirit.Spirit.PROPANOL_2;

import org.junit.jupiter.api.Test;

class ClosedCaseTest {

    /** Ideal gas at 20 °C from the molar masses: 412 and 314 mL of vapour from one mL of liquid. */
    @Test
    void oneMillilitreFillsManyTimesItsVolume() {
        assertThat(ClosedCase.vapour_mLPerLiquid_mL(ETHANOL, 20)).isCloseTo(412, within(0.5));
        assertThat(ClosedCase.vapour_mLPerLiquid_mL(PROPANOL_2, 20)).isCloseTo(314, within(0.5));
    }

    /**
     * Sealed 10 L: 0.83 mL ethanol at the usual limit of 3.3 %, 0.65 mL 2-propanol at 2.0 % (NIOSH
     * Pocket Guide); a quarter of it 0.20 and 0.16 mL. The cautious ethanol limit of 3.0 gives less.
     */
    @Test
    void aFewDropsReachTheLimit() {
        assertThat(ClosedCase.liquid_mL(ETHANOL, 10, 20, 3.3, 1)).isCloseTo(0.83, within(0.005));
        assertThat(ClosedCase.liquid_mL(ETHANOL, 10, 20, 3.3, 0.25)).isCloseTo(0.20, within(0.005));
        assertThat(ClosedCase.toLimit_mL(PROPANOL_2, 10, 20)).isCloseTo(0.65, within(0.005));
        assertThat(ClosedCase.toAlarm_mL(PROPANOL_2, 10, 20)).isCloseTo(0.16, within(0.005));
        assertThat(ClosedCase.toLimit_mL(ETHANOL, 10, 20)).isCloseTo(0.75, within(0.005));
    }

    /** Warm air is thinner, so less liquid is enough. */
    @Test
    void warmthLowersTheAmount() {
        assertThat(ClosedCase.toLimit_mL(ETHANOL, 10, 35))
                .isLessThan(ClosedCase.toLimit_mL(ETHANOL, 10, 20));
    }

    @Test
    void nonsenseIsRefused() {
        assertThatThrownBy(() -> ClosedCase.toLimit_mL(ETHANOL, 0, 20))
                .hasMessageContaining("volume above 0 L");
        assertThatThrownBy(() -> ClosedCase.toLimit_mL(ETHANOL, 10, 500))
                .hasMessageContaining("−20 to 60 °C");
    }
}
