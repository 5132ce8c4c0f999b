package org.evenwash.analysis.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Fits against values that others published and certified. */
class PublishedFitsTest {

    /** NIST Statistical Reference Datasets, nonlinear regression, BoxBOD (Box, Hunter and Hunter 1978). */
    @ParameterizedTest
    @ValueSource(doubles = {1, 0.75})
    void boxBod_fromBothNistStarts_givesTheCertifiedDigits(double startB2) {
        double[] x = {1, 2, 3, 5, 7, 10};
        double[] y = {109, 149, 149, 191, 213, 224};
        var fit = SaturatingCurve.fit(x, y, startB2).orElseThrow();
        assertCertified(fit.b1(), 2.1380940889E+02);
        assertCertified(fit.b2(), 5.4723748542E-01);
        assertCertified(fit.seB1(), 1.2354515176E+01);
        assertCertified(fit.seB2(), 1.0455993237E-01);
        assertCertified(fit.rss(), 1.1680088766E+03);
        assertCertified(fit.sigma(), 1.7088072423E+01);
    }

    /** NIST Statistical Reference Datasets, nonlinear regression, Misra1a (dental research, 1978). */
    @ParameterizedTest
    @ValueSource(doubles = {0.0001, 0.0005})
    void misra1a_fromBothNistStarts_givesTheCertifiedDigits(double startB2) {
        double[] x = {
            77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1,
            689.1, 760.0
        };
        double[] y = {
            10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40,
            75.47, 81.78
        };
        var fit = SaturatingCurve.fit(x, y, startB2).orElseThrow();
        assertCertified(fit.b1(), 2.3894212918E+02);
        assertCertified(fit.b2(), 5.5015643181E-04);
        assertCertified(fit.seB1(), 2.7070075241E+00);
        assertCertified(fit.seB2(), 7.2668688436E-06);
        assertCertified(fit.rss(), 1.2455138894E-01);
        assertCertified(fit.sigma(), 1.0187876330E-01);
    }

    /** Certified values have eleven digits; the last may be a rounding. */
    private static void assertCertified(double got, double certified) {
        assertThat(got).isCloseTo(certified, Percentage.withPercentage(100 * 5e-11));
    }

    private static final double[] DOSE = {
        1.6907, 1.7242, 1.7552, 1.7842, 1.8113, 1.8369, 1.8610, 1.8839
    };
    private static final double[] BEETLES = {59, 60, 62, 56, 63, 59, 62, 60};
    private static final double[] KILLED = {6, 13, 18, 28, 52, 53, 61, 60};

    /**
     * Bliss 1935 (Ann. Appl. Biol. 22:134–167), beetles and carbon disulphide; fits as in Dobson, An
     * Introduction to Generalized Linear Models, ch. 7: −39.57, 22.04, D 3.45; −60.72, 34.27, D 11.23;
     * −34.94, 19.73, D 10.12. Standard errors: R 4.2.2 glm.
     */
    @Test
    void blissBeetles_giveDobsonsFits() {
        assertBliss(Link.CLOGLOG, -39.57, 22.04, 3.45, 3.24029, 1.79937);
        assertBliss(Link.LOGIT, -60.72, 34.27, 11.23, 5.18070, 2.91213);
        assertBliss(Link.PROBIT, -34.94, 19.73, 10.12, 2.64788, 1.48721);
    }

    private static void assertBliss(
            Link link, double b0, double b1, double deviance, double seB0, double seB1) {
        var fit = BinomialRegression.fit(link, DOSE, KILLED, survivors()).orElseThrow();
        assertThat(fit.b0()).isCloseTo(b0, within(0.005));
        assertThat(fit.b1()).isCloseTo(b1, within(0.005));
        assertThat(fit.deviance()).isCloseTo(deviance, within(0.005));
        assertThat(fit.df()).isEqualTo(6);
        // R stops its iterations a little short of the maximum, in the fifth digit of these.
        assertThat(fit.seB0()).isCloseTo(seB0, Percentage.withPercentage(0.01));
        assertThat(fit.seB1()).isCloseTo(seB1, Percentage.withPercentage(0.01));
    }

    /** Fitted numbers for the cloglog line, R 4.2.2 {@code fitted(glm(...)) * n}. */
    @Test
    void blissBeetles_fittedNumbersMatch() {
        var fit = BinomialRegression.fit(Link.CLOGLOG, DOSE, KILLED, survivors()).orElseThrow();
        double[] fitted = {5.589, 11.281, 20.954, 30.369, 47.776, 54.143, 61.113, 59.947};
        for (int i = 0; i < DOSE.length; i++) {
            assertThat(BEETLES[i] * fit.probability(DOSE[i])).isCloseTo(fitted[i], within(0.0006));
        }
    }

    private static double[] survivors() {
        double[] survivors = new double[BEETLES.length];
        for (int i = 0; i < survivors.length; i++) {
            survivors[i] = BEETLES[i] - KILLED[i];
        }
        return survivors;
    }

    @Test
    void aDoseThatSeparatesHitsFromMisses_hasNoFit() {
        double[] dose = {1, 2, 3};
        for (Link link : Link.values()) {
            assertThat(
                            BinomialRegression.fit(
                                    link, dose, new double[] {0, 2, 5}, new double[] {5, 3, 0}))
                    .isEmpty();
            assertThat(BinomialRegression.fit(link, dose, new double[] {5, 5, 5}, new double[3]))
                    .isEmpty();
            assertThat(
                            BinomialRegression.fit(
                                    link,
                                    new double[] {2, 2},
                                    new double[] {1, 2},
                                    new double[] {3, 1}))
                    .isEmpty();
        }
    }

    @Test
    void linksAndTheirInverses_agree() {
        for (Link link : Link.values()) {
            for (double p : new double[] {1e-9, 0.01, 0.3, 0.5, 0.95, 1 - 1e-9}) {
                double eta = link.line(p);
                assertThat(link.probability(eta)).isCloseTo(p, within(1e-15 + 1e-12 * p));
                assertThat(link.complement(eta)).isCloseTo(1 - p, within(1e-12));
                double numeric =
                        (link.probability(eta + 1e-5) - link.probability(eta - 1e-5)) / 2e-5;
                assertThat(link.slope(eta)).isCloseTo(numeric, within(1e-7));
            }
        }
    }
}
