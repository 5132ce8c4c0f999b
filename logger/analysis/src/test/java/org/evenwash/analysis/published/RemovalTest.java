package org.evenwash.analysis.published;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.evenwash.analysis.recovery.ThreePass;
import org.evenwash.analysis.recovery.TwoPass;
import org.junit.jupiter.api.Test;

/**
 * Removal (depletion) examples: Seber, G. A. F. (2002) The Estimation of Animal Abundance, 2nd ed.,
 * example 7.4; Cowx, I. G. (1983) Fisheries Management 14:67–82, p. 75; Carle, F. L. and Strub, M. R.
 * (1978) Biometrics 34:621–630. Printed values as in the validation tests of the public R package FSA
 * (removal function).
 */
class RemovalTest {

    @Test
    void seberExample7_4_catches79And28() {
        TwoPass fit = TwoPass.of(79, 28);
        assertThat(fit.total()).isCloseTo(122, within(0.5));
        assertThat(fit.seTotal()).isCloseTo(8.8, within(0.05));
        assertThat(fit.p()).isCloseTo(0.65, within(0.005));
    }

    @Test
    void cowxPage75_twoCatches72And56() {
        TwoPass fit = TwoPass.of(72, 56);
        assertThat(fit.total()).isCloseTo(324, within(0.5));
        assertThat(fit.seTotal()).isCloseTo(178.19, within(0.005));
        assertThat(fit.p()).isCloseTo(0.22, within(0.005));
    }

    @Test
    void cowxPage75_threeCatches72And56And46() {
        assertThat(ThreePass.of(72, 56, 46).total()).isCloseTo(353, within(0.5));
    }

    /**
     * Carle and Strub's own (weighted) estimate of 38, 26, 12 is 91 with p 0.444; the large-sample
     * solution of the same equations gives 94.9, which is not their number but must lie near.
     */
    @Test
    void carleAndStrub38And26And12_liesNearTheirWeightedEstimate() {
        ThreePass fit = ThreePass.of(38, 26, 12);
        assertThat(fit.total()).isCloseTo(91, within(0.05 * 91));
        assertThat(fit.p()).isCloseTo(0.444, within(0.03));
    }

    /** Carle and Strub's failing case 5, 7, 8: the catches grow, so there is nothing to extrapolate. */
    @Test
    void carleAndStrub5And7And8_hasNoSolution() {
        assertThat(ThreePass.of(5, 7, 8).total()).isNaN();
        assertThat(TwoPass.of(5, 7).defined()).isFalse();
    }
}
