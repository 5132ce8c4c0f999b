package org.evenwash.analysis.protocol;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class BeeMeasureTest {

    /** Exact by definition: US customary 118.294 mL, label 120, metric 125, imperial 142.07. */
    @Test
    void halfCupsDifferByAFifth() {
        assertThat(BeeMeasure.HALF_US_CUP_ML).isCloseTo(118.294, within(0.0005));
        assertThat(BeeMeasure.HALF_US_LABEL_CUP_ML).isEqualTo(120);
        assertThat(BeeMeasure.HALF_METRIC_CUP_ML).isEqualTo(125);
        assertThat(BeeMeasure.HALF_IMPERIAL_CUP_ML).isCloseTo(142.07, within(0.005));
    }

    /**
     * COLOSS BEEBOOK 2013 (after Lee et al. 2010): 300 bees to 100 mL. "Half a cup is 300 bees":
     * 2.54 per mL with the US cup, 2.40 with the metric one. The same half US cup is 300 or 355
     * bees, the same 125 mL 300 or 375.
     */
    @Test
    void theSameScoopIs300Or355Bees() {
        assertThat(BeeMeasure.COLOSS_BEES_PER_ML * 100).isEqualTo(300);
        assertThat(BeeMeasure.HALF_US_CUP_BEES_PER_ML).isCloseTo(2.54, within(0.005));
        assertThat(BeeMeasure.HALF_METRIC_CUP_BEES_PER_ML).isCloseTo(2.40, within(0.005));
        assertThat(BeeMeasure.published(BeeMeasure.HALF_US_CUP_ML).most())
                .isCloseTo(355, within(0.5));
        assertThat(BeeMeasure.published(125)).isEqualTo(new BeeMeasure.Bees(300, 375));
        assertThat(125 * BeeMeasure.HALF_US_CUP_BEES_PER_ML).isCloseTo(317, within(0.5));
    }

    @Test
    void anUncalibratedScoopIsNoProofOf300Bees() {
        Rule rule =
                new Rule(
                        Point.BEES,
                        Limit.Range.atLeast(300),
                        Rule.Severity.FAIL,
                        new Source("An invented guide", "2020", ""),
                        "");
        Protocol protocol = new Protocol("t", "T", "2020", java.util.List.of(rule));
        Check check =
                protocol.check(WashFacts.builder().beesByVolume(BeeMeasure.HALF_US_CUP_ML).build())
                        .get(0);
        assertThat(check.outcome()).isEqualTo(Check.Outcome.CAUTION);
        assertThat(check.evidence()).contains("between 283.91 and 354.88").contains("118.29 mL");
        assertThatThrownBy(() -> BeeMeasure.published(0)).hasMessageContaining("more than 0 mL");
    }
}
