package org.evenwash.analysis.vectors;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenwash.analysis.agitation.ConditionalFit;
import org.evenwash.analysis.agitation.ExponentialFit;
import org.evenwash.analysis.agitation.FitQuality;
import org.evenwash.analysis.agitation.SaturatingFit;
import org.evenwash.analysis.agitation.TimeToShare;
import org.evenwash.analysis.agitation.TimedWash;
import org.evenwash.analysis.agitation.WeibullFit;
import org.evenwash.analysis.fit.BinomialRegression;
import org.evenwash.analysis.fit.Binomials;
import org.evenwash.analysis.fit.Link;
import org.evenwash.analysis.fit.SaturatingCurve;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.operators.CountChart;
import org.evenwash.analysis.operators.FunnelLimits;
import org.evenwash.analysis.operators.GaugeStudy;
import org.evenwash.analysis.operators.Homogeneity;
import org.evenwash.analysis.operators.IndividualsChart;
import org.evenwash.analysis.operators.OneWayPrecision;
import org.evenwash.analysis.operators.OperatorTotals;
import org.evenwash.analysis.operators.OperatorWash;
import org.evenwash.analysis.operators.RateChart;
import org.evenwash.analysis.operators.WashPermutation;
import org.evenwash.analysis.trend.GrowthFit;
import org.evenwash.analysis.trend.Sample;

/** The kinds that need a fit, a permutation or a chart: agitation time, operators, trend. */
final class FitKinds {

    private static final long SEED = 20_240_229;

    /** Beyond four operators there are too many tables to count them all. */
    private static final int MOST_ENUMERATED = 4;

    private FitKinds() {}

    static Map<String, Kind> kinds() {
        return Map.ofEntries(
                Map.entry("glm_binomial", FitKinds::glmBinomial),
                Map.entry("nls_saturating", FitKinds::nlsSaturating),
                Map.entry("time_exp", FitKinds::timeExponential),
                Map.entry("time_saturating", FitKinds::timeSaturating),
                Map.entry("time_weibull", FitKinds::timeWeibull),
                Map.entry("time_conditional", FitKinds::timeConditional),
                Map.entry("homogeneity", FitKinds::homogeneity),
                Map.entry("homogeneity_permutation", FitKinds::permutation),
                Map.entry("funnel", FitKinds::funnel),
                Map.entry("precision_oneway", FitKinds::oneWay),
                Map.entry("gauge_rr", FitKinds::gauge),
                Map.entry("c_chart", FitKinds::countChart),
                Map.entry("u_chart", FitKinds::rateChart),
                Map.entry("i_mr_chart", FitKinds::individuals),
                Map.entry("trend", FitKinds::trend));
    }

    private static Map<String, Object> glmBinomial(Inputs in) {
        double[] trials = in.numbers("n");
        double[] hits = in.numbers("killed");
        double[] misses = new double[trials.length];
        for (int i = 0; i < trials.length; i++) {
            misses[i] = trials[i] - hits[i];
        }
        Link link = Link.valueOf(in.text("link").toUpperCase(Locale.ROOT));
        var fit = BinomialRegression.fit(link, in.numbers("dose"), hits, misses).orElseThrow();
        var got = new HashMap<String, Object>();
        got.put("b0", fit.b0());
        got.put("b1", fit.b1());
        got.put("se_b0", fit.seB0());
        got.put("se_b1", fit.seB1());
        got.put("deviance", fit.deviance());
        got.put("df", fit.df());
        got.put("pearson", fit.pearson());
        got.put("loglik", fit.loglik());
        got.put("median_dose", fit.medianDose());
        return got;
    }

    private static Map<String, Object> nlsSaturating(Inputs in) {
        var fit =
                SaturatingCurve.fit(
                                in.numbers("x"), in.numbers("y"), in.object("start").number("b2"))
                        .orElseThrow();
        return Map.of(
                "b1", fit.b1(),
                "b2", fit.b2(),
                "se_b1", fit.seB1(),
                "se_b2", fit.seB2(),
                "rss", fit.rss(),
                "sigma", fit.sigma());
    }

    private static List<TimedWash> timed(Inputs in, boolean secondTimes) {
        double[] t = in.numbers("t");
        int[] m1 = in.wholes("m1");
        int[] m2 = in.wholes("m2");
        double[] t2 = secondTimes ? in.numbers("T2") : null;
        List<TimedWash> washes = new ArrayList<>();
        for (int i = 0; i < t.length; i++) {
            OptionalDouble second = t2 == null ? OptionalDouble.empty() : OptionalDouble.of(t2[i]);
            washes.add(new TimedWash(t[i], m1[i], m2[i], second));
        }
        return washes;
    }

    private static Map<String, Object> fields(FitQuality quality, Optional<TimeToShare> time) {
        var got = new HashMap<String, Object>();
        got.put("loglik", quality.loglik());
        got.put("deviance", quality.deviance());
        got.put("aic", quality.aic());
        got.put("X2", quality.x2());
        got.put("df", quality.df());
        got.put("phi_pearson", quality.phiPearson().orElse(Double.NaN));
        got.put("phi_fletcher", quality.phiFletcher().orElse(Double.NaN));
        got.put("cutoff", quality.cutoff());
        time.ifPresent(
                t -> {
                    got.put("tq", t.seconds());
                    got.put("tq_lo", t.lower());
                    got.put("tq_hi", t.upper());
                });
        return got;
    }

    private static Map<String, Object> timeExponential(Inputs in) {
        var fit = ExponentialFit.fit(timed(in, false), in.number("q")).orElseThrow();
        var got = fields(fit.quality(), fit.timeToShare());
        got.put("k", fit.k());
        return got;
    }

    private static Map<String, Object> timeSaturating(Inputs in) {
        var fit = SaturatingFit.fit(timed(in, false), in.number("q")).orElseThrow();
        var got = fields(fit.quality(), fit.timeToShare());
        got.put("a", fit.a());
        got.put("k", fit.k());
        got.put("t95_of_plateau", fit.t95OfPlateau());
        return got;
    }

    private static Map<String, Object> timeWeibull(Inputs in) {
        var fit = WeibullFit.fit(timed(in, false), in.number("q")).orElseThrow();
        var got = fields(fit.quality(), fit.timeToShare());
        got.put("b0", fit.line().b0());
        got.put("b1", fit.line().b1());
        got.put("se_b0", fit.line().seB0());
        got.put("se_b1", fit.line().seB1());
        got.put("cov", fit.line().covariance());
        return got;
    }

    private static Map<String, Object> timeConditional(Inputs in) {
        var fit = ConditionalFit.fit(timed(in, true), in.number("q")).orElseThrow();
        // The vectors hold the interval without scaling for dispersion.
        var got = fields(fit.quality(), Optional.of(fit.unscaled().orElse(fit.time())));
        got.put("k", fit.k());
        return got;
    }

    private static Map<String, Object> homogeneity(Inputs in) {
        double[] x = in.numbers("x");
        double[] n = in.numbers("N");
        Homogeneity fit = Homogeneity.of(x, n).orElseThrow();
        var got = new HashMap<String, Object>();
        got.put("chi2", fit.chi2());
        got.put("df", fit.df());
        got.put("p", fit.p());
        got.put("p_pool", fit.pooled());
        got.put("tau", fit.tau());
        if (x.length <= MOST_ENUMERATED) {
            got.put("p_exact", new TableEnumeration(n, fit).atLeastAsExtreme());
        }
        return got;
    }

    private static Map<String, Object> permutation(Inputs in) {
        List<String> operators = in.labels("op");
        int[] m1 = in.wholes("m1");
        int[] m2 = in.wholes("m2");
        List<OperatorWash> washes = new ArrayList<>();
        for (int i = 0; i < m1.length; i++) {
            washes.add(new OperatorWash(operators.get(i), m1[i], m2[i]));
        }
        var totals = new OperatorTotals(washes);
        var test = WashPermutation.test(washes, WashPermutation.DEALS, SEED).orElseThrow();
        var f = totals.quasiF().orElseThrow();
        return Map.of(
                "stat", test.statistic(),
                "phi_within", totals.phiWithin(),
                "F", f.f(),
                "p_F", f.p(),
                "p_exact", new Kind.MonteCarlo(test.p(), test.deals()));
    }

    private static Map<String, Object> funnel(Inputs in) {
        var limits = FunnelLimits.at(in.number("N"), in.number("p"), in.number("conf"));
        return Map.of(
                "lo", limits.lower(),
                "hi", limits.upper(),
                "lo_normal", limits.lowerNormal(),
                "hi_normal", limits.upperNormal());
    }

    private static Map<String, Object> oneWay(Inputs in) {
        var fit =
                OneWayPrecision.of(in.numbers("y"), in.labels("g").toArray(new String[0]))
                        .orElseThrow();
        var got = new HashMap<String, Object>();
        got.put("mean", fit.mean());
        got.put("ms_between", fit.msBetween());
        got.put("ms_within", fit.msWithin());
        got.put("F", fit.f());
        got.put("p", fit.p());
        got.put("n_bar", fit.nBar());
        got.put("s_r", fit.repeatability());
        got.put("s_L", fit.betweenOperators());
        got.put("s_R", fit.reproducibility());
        got.put("r_limit", fit.repeatabilityLimit());
        got.put("R_limit", fit.reproducibilityLimit());
        return got;
    }

    private static Map<String, Object> gauge(Inputs in) {
        var fit =
                GaugeStudy.of(
                                in.numbers("y"),
                                in.labels("part").toArray(new String[0]),
                                in.labels("op").toArray(new String[0]))
                        .orElseThrow();
        var got = new HashMap<String, Object>();
        got.put("ms_part", fit.msPart());
        got.put("ms_op", fit.msOperator());
        got.put("ms_int", fit.msInteraction());
        got.put("ms_e", fit.msError().orElse(Double.NaN));
        got.put("F_int", fit.interactionF().orElse(Double.NaN));
        got.put("p_int", fit.interactionP().orElse(Double.NaN));
        got.put("EV", fit.separate().equipment());
        got.put("INT", fit.separate().interaction());
        got.put("AV", fit.separate().appraiser());
        got.put("PV", fit.separate().part());
        got.put("GRR", fit.separate().gauge());
        got.put("pctGRR", fit.separate().percentGauge());
        got.put("pooled_EV", fit.pooled().equipment());
        got.put("pooled_AV", fit.pooled().appraiser());
        got.put("pooled_PV", fit.pooled().part());
        got.put("pooled_GRR", fit.pooled().gauge());
        return got;
    }

    private static Map<String, Object> countChart(Inputs in) {
        var chart = CountChart.of(in.numbers("x")).orElseThrow();
        return Map.of(
                "cbar", chart.mean(),
                "lcl3", chart.lower3(),
                "ucl3", chart.upper3(),
                "exact_lo", chart.exactLower(),
                "exact_hi", chart.exactUpper(),
                "phi", chart.phi().orElse(Double.NaN));
    }

    private static Map<String, Object> rateChart(Inputs in) {
        var chart = RateChart.of(in.numbers("m"), in.numbers("n")).orElseThrow();
        var last = chart.points().get(chart.points().size() - 1);
        return Map.of(
                "ubar100", chart.mean(),
                "ucl3_last", last.upper3(),
                "lcl3_last", last.lower3(),
                "exact_lo_count_last", last.exactLower(),
                "exact_hi_count_last", last.exactUpper(),
                "phi", chart.phi().orElse(Double.NaN));
    }

    private static Map<String, Object> individuals(Inputs in) {
        var chart = IndividualsChart.of(in.numbers("x")).orElseThrow();
        return Map.of(
                "mean", chart.mean(),
                "mrbar", chart.meanRange(),
                "sigma", chart.sigma(),
                "lcl", chart.lower(),
                "ucl", chart.upper(),
                "mr_ucl", chart.rangeUpper());
    }

    private static Map<String, Object> trend(Inputs in) {
        double[] week = in.numbers("week");
        int[] mites = in.wholes("m");
        int[] bees = in.wholes("bees");
        double threshold = in.number("thr");
        List<Sample> samples = new ArrayList<>();
        for (int i = 0; i < week.length; i++) {
            samples.add(new Sample(week[i], mites[i], bees[i]));
        }
        var fit = GrowthFit.of(samples).orElseThrow();
        Optional<Limits> crossing = fit.crossingLimits(threshold);
        var got = new HashMap<String, Object>();
        got.put("b0", fit.b0());
        got.put("b1", fit.b1());
        got.put("se_b1_poisson", Math.sqrt(fit.v11()));
        got.put("cov01", fit.v01());
        got.put("deviance", fit.deviance());
        got.put("phi_raw", fit.phi().orElse(Double.NaN));
        got.put("t_or_z", fit.factor());
        got.put("growth_pct_week", fit.growth());
        got.put("growth_lo", fit.growthLimits().lower());
        got.put("growth_hi", fit.growthLimits().upper());
        // Wald limits are shown to nobody; here they hold variance, dispersion and factor together.
        double half = fit.factor() * Math.sqrt(Math.max(1, fit.phi().orElse(1)) * fit.v11());
        got.put("wald_lo", 100 * Math.expm1(fit.b1() - half));
        got.put("wald_hi", 100 * Math.expm1(fit.b1() + half));
        got.put("doubling_weeks", fit.doublingWeeks());
        got.put("cross_week", fit.crossing(threshold));
        got.put("cross_lo", crossing.<Object>map(Limits::lower).orElse("unbounded"));
        got.put("cross_hi", crossing.<Object>map(Limits::upper).orElse("unbounded"));
        return got;
    }

    /** All ways to spread the hits over operators, each with its hypergeometric probability. */
    private static final class TableEnumeration {
        private final double[] trials;
        private final Homogeneity observed;
        private double extreme;

        TableEnumeration(double[] trials, Homogeneity observed) {
            this.trials = trials;
            this.observed = observed;
        }

        double atLeastAsExtreme() {
            double total = 0;
            for (double n : trials) {
                total += n;
            }
            double hits = Math.rint(observed.pooled() * total);
            deal(0, hits, 0, -Binomials.logChoose(hits, total - hits));
            return extreme;
        }

        private void deal(int operator, double left, double chi2, double logProbability) {
            double n = trials[operator];
            boolean last = operator == trials.length - 1;
            double p = observed.pooled();
            for (double x = last ? left : 0; x <= Math.min(left, n); x++) {
                double residual = x - n * p;
                double sum = chi2 + residual * residual / (n * p * (1 - p));
                double log = logProbability + Binomials.logChoose(x, n - x);
                if (!last) {
                    deal(operator + 1, left - x, sum, log);
                } else if (sum >= observed.chi2() * (1 - 1e-9)) {
                    extreme += Math.exp(log);
                }
            }
        }
    }
}
