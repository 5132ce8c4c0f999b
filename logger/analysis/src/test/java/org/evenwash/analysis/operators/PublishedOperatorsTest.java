package org.evenwash.analysis.operators;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** Comparisons of operators and charts against published studies. */
class PublishedOperatorsTest {

    /**
     * Dyestuff yields, six batches of five (Davies and Goldsmith, Statistical Methods in Research and
     * Production, 4th ed. 1972; as analysed by Bates with lme4: residual SD 49.51, batch SD 42.00).
     */
    @Test
    void dyestuff_givesThePublishedComponents() {
        double[] yields = {
            1545, 1440, 1440, 1520, 1580, 1540, 1555, 1490, 1560, 1495, 1595, 1550, 1605, 1510,
                    1560,
            1445, 1440, 1595, 1465, 1545, 1595, 1630, 1515, 1635, 1625, 1520, 1455, 1450, 1480, 1445
        };
        String[] batch = new String[yields.length];
        Arrays.setAll(batch, i -> "batch " + i / 5);
        var fit = OneWayPrecision.of(yields, batch).orElseThrow();
        assertThat(fit.repeatability()).isCloseTo(49.51, within(0.005));
        assertThat(fit.betweenOperators()).isCloseTo(42.00, within(0.005));
        assertThat(fit.nBar()).isEqualTo(5);
        // The balanced case of ISO 5725-2: s_R² = s_r² + s_L², limits 1.96·√2 times as wide.
        assertThat(fit.reproducibility()).isCloseTo(Math.hypot(49.51, 42.00), within(0.01));
        assertThat(fit.repeatabilityLimit()).isCloseTo(2.77 * 49.51, within(0.15));
    }

    private static final double[] GAUGE_A = {
        .29, -.56, 1.34, .47, -.80, .02, .59, -.31, 2.26, -1.36, .41, -.68, 1.17, .50, -.92, -.11,
        .75, -.20, 1.99, -1.25, .64, -.58, 1.27, .64, -.84, -.21, .66, -.17, 2.01, -1.31
    };
    private static final double[] GAUGE_B = {
        .08, -.47, 1.19, .01, -.56, -.20, .47, -.63, 1.80, -1.68, .25, -1.22, .94, 1.03, -1.20, .22,
        .55, .08, 2.12, -1.62, .07, -.68, 1.34, .20, -1.28, .06, .83, -.34, 2.19, -1.50
    };
    private static final double[] GAUGE_C = {
        .04, -1.38, .88, .14, -1.46, -.29, .02, -.46, 1.77, -1.49, -.11, -1.13, 1.09, .20, -1.07,
        -.67, .01, -.56, 1.45, -1.77, -.15, -.96, .67, .11, -1.45, -.49, .21, -.49, 1.87, -2.16
    };

    /**
     * Gauge study of 10 parts × 3 operators × 3 trials, Automotive Industry Action Group, Measurement
     * Systems Analysis, 4th ed. 2010: analysis of variance with the interaction pooled.
     */
    @Test
    void aiagGaugeStudy_givesThePublishedTable() {
        double[] values =
                Stream.of(GAUGE_A, GAUGE_B, GAUGE_C).flatMapToDouble(DoubleStream::of).toArray();
        String[] part = new String[90];
        String[] operator = new String[90];
        Arrays.setAll(part, i -> "part " + i % 10);
        Arrays.setAll(operator, i -> "operator " + i / 30);
        GaugeStudy study = GaugeStudy.of(values, part, operator).orElseThrow();
        assertThat(study.msOperator() * 2).isCloseTo(3.1673, within(5e-5));
        assertThat(study.msPart() * 9).isCloseTo(88.3619, within(5e-5));
        assertThat(study.msInteraction() * 18).isCloseTo(0.3590, within(5e-5));
        assertThat(study.msError().orElseThrow() * 60).isCloseTo(2.7589, within(5e-5));
        assertThat(study.interactionF().orElseThrow()).isCloseTo(0.434, within(5e-4));
        assertThat(study.poolsInteraction()).isTrue();
        assertThat(study.shown().equipment()).isCloseTo(0.199933, within(5e-7));
        assertThat(study.shown().appraiser()).isCloseTo(0.226838, within(5e-7));
        assertThat(study.shown().gauge()).isCloseTo(0.302372, within(5e-7));
        assertThat(study.shown().part()).isCloseTo(1.042327, within(1e-6));
        assertThat(study.shown().percentGauge()).isCloseTo(27.86, within(0.005));
    }

    /** NIST/SEMATECH e-Handbook of Statistical Methods 6.3.3.1: defects on 25 wafers, c chart. */
    @Test
    void nistWafers_giveTheHandbooksCountChart() {
        double[] wafers = {
            16, 14, 28, 16, 12, 20, 10, 12, 10, 17, 19, 17, 14, 16, 15, 13, 14, 16, 11, 20, 11, 19,
            16, 31, 13
        };
        CountChart chart = CountChart.of(wafers).orElseThrow();
        assertThat(chart.mean()).isEqualTo(16);
        assertThat(chart.lower3()).isEqualTo(4);
        assertThat(chart.upper3()).isEqualTo(28);
        assertThat(wafers[23]).isGreaterThan(chart.upper3());
        assertThat(wafers[2]).isEqualTo(chart.upper3());
        double[] hundred = new double[wafers.length];
        Arrays.fill(hundred, 100);
        ChartReading reading = ChartReading.ofRates(wafers, hundred);
        assertThat(reading.stage()).isEqualTo(ChartReading.Stage.READY);
    }

    /**
     * NIST/SEMATECH e-Handbook 6.3.3.2: fractions of 50 chips, p chart, p̄ .2313, limits .0524 and
     * .4102. The funnel's normal limits at three sigma are the same ones.
     */
    @Test
    void nistChips_giveTheHandbooksLimitsForFractions() {
        double p = 347.0 / (30 * 50);
        double threeSigma = 0.9973002039367398;
        FunnelLimits limits = FunnelLimits.at(50, p, threeSigma);
        assertThat(p).isCloseTo(0.2313, within(5e-5));
        assertThat(limits.lowerNormal()).isCloseTo(0.0524, within(5e-5));
        assertThat(limits.upperNormal()).isCloseTo(0.4102, within(5e-5));
    }

    /** NIST/SEMATECH e-Handbook 6.3.2.2: flow rates, individuals chart (d2 1.128 and D4 3.267 rounded). */
    @Test
    void nistFlowRates_giveTheHandbooksIndividualsChart() {
        double[] flow = {49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1};
        IndividualsChart chart = IndividualsChart.of(flow).orElseThrow();
        assertThat(chart.mean()).isCloseTo(50.81, within(1e-9));
        assertThat(chart.meanRange()).isCloseTo(1.8778, within(5e-5));
        // 1.128 for d2 moves the limits by .0017; the handbook rounds it so.
        assertThat(chart.upper()).isCloseTo(55.8041, within(0.002));
        assertThat(chart.lower()).isCloseTo(45.8159, within(0.002));
        assertThat(chart.rangeUpper()).isCloseTo(6.135, within(0.002));
        assertThat(IndividualsChart.D4).isCloseTo(3.266531919, within(1e-9));
    }

    /**
     * Smokers among lung cancer patients in four studies, Fleiss 1981, Statistical Methods for Rates
     * and Proportions, 2nd ed., p. 139: χ² 12.600, 3 df, p .005585 (as in R's ?prop.test).
     */
    @Test
    void fleissSmokers_giveThePublishedChiSquare() {
        var fit =
                Homogeneity.of(new double[] {83, 90, 129, 70}, new double[] {86, 93, 136, 82})
                        .orElseThrow();
        assertThat(fit.chi2()).isCloseTo(12.600, within(5e-4));
        assertThat(fit.df()).isEqualTo(3);
        assertThat(fit.p()).isCloseTo(0.005585, within(5e-7));
    }
}
