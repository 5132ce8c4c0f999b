package org.evenwash.analysis.published;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.evenwash.analysis.numeric.Limits;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Garwood, F. (1936) Fiducial limits for the Poisson distribution. Biometrika 28:437–442: 95 % limits of
 * a Poisson mean, printed in many tables since (Pearson and Hartley, Biometrika Tables, table 40). k = 25
 * as printed by a public calculator's documentation (16.18–36.90); the other digits recomputed from
 * the formula, χ²/2, by scipy 1.17.1.
 */
class Garwood1936Test {

    @ParameterizedTest
    @CsvSource({
        "0, 0, 3.6889",
        "1, 0.0253, 5.5716",
        "2, 0.2422, 7.2247",
        "3, 0.6187, 8.7673",
        "5, 1.6235, 11.6683",
        "6, 2.2019, 13.0595",
        "9, 4.1154, 17.0848",
        "10, 4.7954, 18.3904",
        "15, 8.3954, 24.7402",
        "20, 12.2165, 30.8884",
        "30, 20.2409, 42.8269",
        "50, 37.1110, 65.9188"
    })
    void limitsOfACount_toFourDecimals(int count, double lower, double upper) {
        Limits limits = Limits.ofCount(count);
        assertThat(limits.lower()).isCloseTo(lower, within(5.1e-5));
        assertThat(limits.upper()).isCloseTo(upper, within(5.1e-5));
    }

    @ParameterizedTest
    @CsvSource({"25, 16.18, 36.90"})
    void limitsOfACount_asPrintedToTwoDecimals(int count, double lower, double upper) {
        Limits limits = Limits.ofCount(count);
        assertThat(limits.lower()).isCloseTo(lower, within(5.1e-3));
        assertThat(limits.upper()).isCloseTo(upper, within(5.1e-3));
    }
}
