package org.evenwash.analysis.published;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.assertj.core.data.Offset;
import org.evenwash.analysis.infestation.Proportion;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Newcombe, R. G. (1998) Two-sided confidence intervals for the single proportion. Statistics in Medicine
 * 17:857–872, Table I: methods 3 (Wilson score) and 5 (Clopper–Pearson). Values from memory, confirmed
 * by scipy 1.17.1.
 */
class Newcombe1998Test {

    private static final Offset<Double> FOUR_DECIMALS = within(5.1e-5);

    @ParameterizedTest
    @CsvSource({
        "81, 263, 0.2553, 0.3662, 0.2527, 0.3676",
        "15, 148, 0.0624, 0.1605, 0.0578, 0.1617",
        " 0,  20, 0,      0.1611, 0,      0.1684",
        " 1,  29, 0.0061, 0.1718, 0.0009, 0.1776"
    })
    void tableOne(
            int x, int n, double wilsonLow, double wilsonHigh, double exactLow, double exactHigh) {
        Proportion share = Proportion.of(x, n);
        assertThat(share.wilson().lower()).isCloseTo(wilsonLow, FOUR_DECIMALS);
        assertThat(share.wilson().upper()).isCloseTo(wilsonHigh, FOUR_DECIMALS);
        assertThat(share.exact().lower()).isCloseTo(exactLow, FOUR_DECIMALS);
        assertThat(share.exact().upper()).isCloseTo(exactHigh, FOUR_DECIMALS);
    }
}
