package org.evenwash.analysis.numeric;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Expected values by scipy 1.17.1: {@code stats.LAW.ppf(p, ...)}, isf or cdf. */
class QuantilesTest {

    private static final Percentage CLOSE = Percentage.withPercentage(1e-9);

    @Test
    void constantsOfTheLevel_areTheQuantilesTheyStandFor() {
        assertThat(Quantiles.normal(0.975)).isCloseTo(Level.Z, within(4e-16));
        assertThat(Quantiles.chiSquare(0.95, 1)).isCloseTo(Level.CHI_SQUARE_1, within(1e-14));
        assertThat(-Math.log(Level.TAIL)).isCloseTo(Level.NONE_COUNTED, within(1e-15));
    }

    @ParameterizedTest
    @CsvSource({
        "0.025, 1, 0.025317807984289876",
        "0.975, 1, 3.6888794541139354",
        "0.025, 1e6, 998040.9833402939",
        "0.975, 1000001, 1001961.9119454322",
        "0.025, 0.01, 3.5226859973137185e-161",
        "0.5, 3.7, 3.3725380132364133"
    })
    void gamma(double p, double shape, double expected) {
        assertThat(Quantiles.gamma(p, shape)).isCloseTo(expected, CLOSE);
    }

    @ParameterizedTest
    @CsvSource({
        "0.025, 1, 300, 8.438913231780044e-05",
        "0.975, 32.5147058823529, 0.485294117647057, 0.9999879280867627",
        "0.025, 32.5147058823529, 0.485294117647057, 0.9262505005217617",
        "0.025, 0.01, 2, 2.30071852272062e-161",
        "0.975, 45, 5, 0.9660282950160443",
        "0.025, 500000, 3, 0.9999855507579545"
    })
    void beta(double p, double a, double b, double expected) {
        assertThat(Quantiles.beta(p, a, b)).isCloseTo(expected, CLOSE);
    }

    @ParameterizedTest
    @CsvSource({
        "0.975, 1, 12.706204736174694",
        "0.975, 4, 2.7764451051977934",
        "0.025, 9, -2.2621571627982053",
        "0.975, 1000, 1.9623390808264083",
        "0.975, 1e6, 1.959966356814107"
    })
    void student(double p, double df, double expected) {
        assertThat(Quantiles.student(p, df)).isCloseTo(expected, CLOSE);
    }

    @ParameterizedTest
    @CsvSource({
        "0.95, 1, 10, 4.964602743730711",
        "0.95, 2, 12, 3.8852938346523924",
        "0.05, 7, 3, 0.23005263098568923"
    })
    void fisher(double p, double df1, double df2, double expected) {
        assertThat(Quantiles.fisher(p, df1, df2)).isCloseTo(expected, CLOSE);
    }

    @ParameterizedTest
    @CsvSource({"1e-12, -7.034483825301131", "0.999, 3.090232306167813", "0.6, 0.2533471031357997"})
    void normal(double p, double expected) {
        assertThat(Quantiles.normal(p)).isCloseTo(expected, CLOSE);
    }

    @Test
    void tails() {
        assertThat(Probabilities.fisherAbove(10.4155706314994, 2, 12))
                .isCloseTo(0.0023843587384117016, CLOSE);
        assertThat(Probabilities.fisherAbove(50, 3, 40)).isCloseTo(1.3443392666414079e-13, CLOSE);
        assertThat(Probabilities.chiSquareAbove(12.6004112971276, 3))
                .isCloseTo(0.005585476661627124, CLOSE);
        assertThat(Probabilities.chiSquareAbove(200, 3)).isCloseTo(4.218541107192018e-43, CLOSE);
    }

    @Test
    void poisson() {
        assertThat(new Poisson(19.8461538461538).quantile(0.00135)).isEqualTo(8);
        assertThat(new Poisson(19.8461538461538).quantile(0.99865)).isEqualTo(34);
        assertThat(new Poisson(1e6).quantile(0.99865)).isEqualTo(1003001);
        assertThat(new Poisson(0.5).quantile(0.00135)).isZero();
        assertThat(new Poisson(9).atMost(8)).isCloseTo(0.45565260432241894, CLOSE);
    }

    @Test
    void binomial() {
        assertThat(new Binomial(25, 0.9).quantile(0.025)).isEqualTo(19);
        assertThat(new Binomial(25, 0.9).quantile(0.975)).isEqualTo(25);
        assertThat(new Binomial(1_000_000, 0.3).quantile(0.975)).isEqualTo(300898);
        assertThat(new Binomial(25, 0.9).atMost(18)).isCloseTo(0.009476360691506553, CLOSE);
        assertThat(new Binomial(25, 0.9).mass(18)).isCloseTo(0.007215049118726741, CLOSE);
    }

    @Test
    void hypergeometric() {
        assertThat(new Hypergeometric(60, 24, 12).atMost(2)).isCloseTo(0.06133278634583062, CLOSE);
        assertThat(new Hypergeometric(60, 3, 12).atLeast(2)).isCloseTo(0.09900642898889538, CLOSE);
        assertThat(new Hypergeometric(20, 1, 19).atMost(0)).isCloseTo(0.05, CLOSE);
        assertThat(new Hypergeometric(100_000, 5_000, 5_000).atLeast(300))
                .isCloseTo(0.0006546237852677373, CLOSE);
    }
}
