package org.evenwash.analysis.published;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.evenwash.analysis.efficacy.BeforeAfter;
import org.evenwash.analysis.efficacy.HendersonTilton;
import org.evenwash.analysis.efficacy.RateChange;
import org.evenwash.analysis.efficacy.Wash;
import org.junit.jupiter.api.Test;

/**
 * Abbott, W. S. (1925) J. Econ. Entomol. 18:265–267; Henderson, C. F. and Tilton, E. W. (1955) J. Econ.
 * Entomol. 48:157–161. The papers' own examples were not at hand: these are the worked examples of a
 * public implementation's test suite, all on equal numbers of animals.
 */
class TreatmentEfficacyTest {

    @Test
    void abbott_control100_treated20() {
        assertThat(RateChange.of(wash(100), wash(20)).efficacy()).isCloseTo(80, within(1e-9));
    }

    @Test
    void hendersonTilton_control40To60_treated50To5() {
        var fit =
                HendersonTilton.of(
                        new BeforeAfter(wash(50), wash(5)), new BeforeAfter(wash(40), wash(60)));
        assertThat(fit.efficacy()).isCloseTo(93.333, within(5e-4));
    }

    /** Same formula, computed by hand: 1 − (20/100)·(100/80). */
    @Test
    void hendersonTilton_control100To80_treated100To20() {
        var fit =
                HendersonTilton.of(
                        new BeforeAfter(wash(100), wash(20)), new BeforeAfter(wash(100), wash(80)));
        assertThat(fit.efficacy()).isCloseTo(75, within(1e-9));
    }

    private static Wash wash(int mites) {
        return new Wash(mites, 300);
    }
}
