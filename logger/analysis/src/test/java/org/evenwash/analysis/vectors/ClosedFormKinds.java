package org.evenwash.analysis.vectors;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import org.evenwash.analysis.apiary.ApiaryMean;
import org.evenwash.analysis.apiary.ColoniesOver;
import org.evenwash.analysis.apiary.ColoniesToWash;
import org.evenwash.analysis.apiary.ColonyWash;
import org.evenwash.analysis.apiary.OperatingCharacteristic;
import org.evenwash.analysis.apiary.Precision;
import org.evenwash.analysis.beecount.FillLine;
import org.evenwash.analysis.beecount.MassRatio;
import org.evenwash.analysis.efficacy.BeforeAfter;
import org.evenwash.analysis.efficacy.HendersonTilton;
import org.evenwash.analysis.efficacy.RateChange;
import org.evenwash.analysis.efficacy.Wash;
import org.evenwash.analysis.infestation.BeesInSample;
import org.evenwash.analysis.infestation.CorrectedRate;
import org.evenwash.analysis.infestation.PoissonRate;
import org.evenwash.analysis.infestation.Proportion;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.recovery.BetaBinomial;
import org.evenwash.analysis.recovery.PredictiveBeta;
import org.evenwash.analysis.recovery.RecountSummary;
import org.evenwash.analysis.recovery.ThreePass;
import org.evenwash.analysis.recovery.TwoPass;
import org.evenwash.analysis.recovery.WashPair;

/** The kinds with a closed form: infestation, bee count, recovery, apiary, efficacy. */
final class ClosedFormKinds {

    private ClosedFormKinds() {}

    static Map<String, Kind> kinds() {
        var kinds = new HashMap<String, Kind>();
        kinds.put("poisson_rate", ClosedFormKinds::poissonRate);
        kinds.put("proportion", ClosedFormKinds::proportion);
        kinds.put("corrected_rate", ClosedFormKinds::correctedRate);
        kinds.put("count_fill_line", ClosedFormKinds::countFillLine);
        kinds.put("count_mass", ClosedFormKinds::countMass);
        kinds.put("recovery_recount", ClosedFormKinds::recoveryRecount);
        kinds.put("removal_two_pass", ClosedFormKinds::removalTwoPass);
        kinds.put("removal_three_pass", ClosedFormKinds::removalThreePass);
        kinds.put("beta_binomial", ClosedFormKinds::betaBinomial);
        kinds.put("hypergeometric_bound", ClosedFormKinds::hypergeometricBound);
        kinds.put("hypergeometric_min_n", ClosedFormKinds::hypergeometricMinN);
        kinds.put("apiary_mean", ClosedFormKinds::apiaryMean);
        kinds.put("operating_characteristic", ClosedFormKinds::operatingCharacteristic);
        kinds.put("henderson_tilton", ClosedFormKinds::hendersonTilton);
        kinds.put("efficacy_no_control", in -> rateChange(in, "b", "nb", "a", "na"));
        kinds.put("abbott", in -> rateChange(in, "ca", "nca", "ta", "nta"));
        return kinds;
    }

    private static Map<String, Object> poissonRate(Inputs in) {
        var rate = PoissonRate.of(in.whole("m"), in.number("n"));
        return fields("est", rate.value(), "lo", rate.lower(), "hi", rate.upper());
    }

    private static Map<String, Object> proportion(Inputs in) {
        var share = Proportion.of(in.whole("x"), in.whole("n"));
        var fields = fields("est", share.value());
        limits(fields, "cp_lo", "cp_hi", share.exact());
        limits(fields, "wilson_lo", "wilson_hi", share.wilson());
        return fields;
    }

    private static Map<String, Object> correctedRate(Inputs in) {
        int mites = in.whole("m");
        var bees = new BeesInSample(in.number("n"), in.number("u"));
        var recovery = new PredictiveBeta(in.number("a"), in.number("b"));
        var rate = CorrectedRate.of(mites, bees, recovery);
        var fields =
                fields("est", rate.value(), "mover_lo", rate.lower(), "mover_hi", rate.upper());
        limits(fields, "oracle_lo", "oracle_hi", new SplitGamma(mites, bees, recovery).limits());
        return fields;
    }

    private static Map<String, Object> countFillLine(Inputs in) {
        var line = FillLine.of(in.numbers("x"));
        var fields =
                fields(
                        "k",
                        line.samples(),
                        "mean",
                        line.mean(),
                        "sd",
                        line.sd(),
                        "se_pred",
                        line.sePrediction(),
                        "u_log",
                        line.logSd());
        limits(fields, "lo", "hi", line.limits());
        return fields;
    }

    private static Map<String, Object> countMass(Inputs in) {
        var ratio = MassRatio.of(in.numbers("g"), in.numbers("x"), in.number("g0"));
        var fields =
                fields(
                        "bees_per_g",
                        ratio.beesPerGram(),
                        "s",
                        ratio.scatter(),
                        "pred",
                        ratio.bees(),
                        "se_pred",
                        ratio.sePrediction());
        limits(fields, "lo", "hi", ratio.limits());
        return fields;
    }

    private static Map<String, Object> recoveryRecount(Inputs in) {
        var s = RecountSummary.of(pairs(in));
        // spotless:off
        var fields = fields(
                "washes", s.washes(),
                "p", s.p(),
                "phi_raw", s.phiRaw(),
                "phi", s.phi(),
                "n_eff", s.effectiveSize(),
                "se_quasi", s.seQuasi(),
                "se_ratio", s.seRatio(),
                "se_jack", s.seJackknife(),
                "pearson_p", s.pearsonP(),
                "p_shrunk", s.shrunk(),
                "rho", s.rho(),
                "sd_pred", s.sdOfNewWash(),
                "beta_a", s.betaA(),
                "beta_b", s.betaB());
        // spotless:on
        limits(fields, "lo", "hi", s.limits());
        return fields;
    }

    private static Map<String, Object> removalTwoPass(Inputs in) {
        var fit = TwoPass.of(in.whole("c1"), in.whole("c2"));
        // spotless:off
        var fields = fields(
                "ok", fit.defined(),
                "N", fit.total(),
                "se_N", fit.seTotal(),
                "p", fit.p(),
                "se_p", fit.seP());
        // spotless:on
        limits(fields, "p_lo_exact", "p_hi_exact", fit.exact());
        return fields;
    }

    private static Map<String, Object> removalThreePass(Inputs in) {
        var fit = ThreePass.of(in.whole("c1"), in.whole("c2"), in.whole("c3"));
        return fields("N", fit.total(), "p", fit.p(), "se_N", fit.seTotal(), "se_p", fit.seP());
    }

    private static Map<String, Object> betaBinomial(Inputs in) {
        var fit = BetaBinomial.of(pairs(in));
        return fields("mu", fit.mu(), "rho", fit.rho(), "loglik", fit.logLikelihood());
    }

    private static Map<String, Object> hypergeometricBound(Inputs in) {
        var bound = ColoniesOver.of(in.whole("x"), in.whole("n"), in.whole("N"));
        return fields(
                "upper", bound.atMost(), "lower", bound.atLeast(), "proportion", bound.share());
    }

    private static Map<String, Object> hypergeometricMinN(Inputs in) {
        int most = in.whole("D");
        int colonies = in.whole("N");
        return fields(
                "n",
                orNull(ColoniesToWash.ifNoneIsOver(most, colonies)),
                "n_one_allowed",
                orNull(ColoniesToWash.ifOneIsOver(most, colonies)));
    }

    private static Map<String, Object> apiaryMean(Inputs in) {
        int[] mites = in.wholes("m");
        double[] bees = in.numbers("bees");
        var washes = new ArrayList<ColonyWash>();
        for (int i = 0; i < mites.length; i++) {
            washes.add(new ColonyWash(mites[i], bees[i]));
        }
        var mean = ApiaryMean.of(washes, in.whole("N"));
        // spotless:off
        var fields = fields(
                "mean", mean.mean(),
                "s", mean.sd(),
                "se_fpc_only", mean.seSamplingOnly(),
                "se", mean.se(),
                "t", mean.t());
        // spotless:on
        limits(fields, "lo", "hi", mean.plain());
        limits(fields, "log_lo", "log_hi", mean.limits());
        return fields;
    }

    private static Map<String, Object> operatingCharacteristic(Inputs in) {
        double rate = in.number("lambda");
        double recovery = in.number("r");
        var characteristic =
                OperatingCharacteristic.corrected(rate, in.number("n"), in.number("thr"), recovery);
        var bees = Precision.bees(rate, recovery, 0.3);
        return fields(
                "cut_count",
                characteristic.cutCount(),
                "p_below",
                characteristic.probabilityBelow(),
                "n_for_rel_halfwidth_30pct",
                bees.isPresent() ? (Object) bees.getAsLong() : Double.POSITIVE_INFINITY);
    }

    private static Map<String, Object> hendersonTilton(Inputs in) {
        var fit =
                HendersonTilton.of(
                        new BeforeAfter(wash(in, "Tb", "nTb"), wash(in, "Ta", "nTa")),
                        new BeforeAfter(wash(in, "Cb", "nCb"), wash(in, "Ca", "nCa")));
        var fields = fields("efficacy", fit.efficacy(), "se_log", fit.seLog());
        limits(fields, "lo", "hi", fit.wald());
        limits(fields, "exact_lo", "exact_hi", fit.exact());
        return fields;
    }

    private static Map<String, Object> rateChange(
            Inputs in, String before, String beesBefore, String after, String beesAfter) {
        var change = RateChange.of(wash(in, before, beesBefore), wash(in, after, beesAfter));
        var fields = fields("efficacy", change.efficacy());
        limits(fields, "lo", "hi", change.limits());
        return fields;
    }

    private static Wash wash(Inputs in, String mites, String bees) {
        return new Wash(in.whole(mites), in.number(bees));
    }

    private static List<WashPair> pairs(Inputs in) {
        int[] first = in.wholes("m1");
        int[] second = in.wholes("m2");
        var pairs = new ArrayList<WashPair>();
        for (int i = 0; i < first.length; i++) {
            pairs.add(new WashPair(first[i], second[i]));
        }
        return pairs;
    }

    private static Integer orNull(OptionalInt value) {
        return value.isPresent() ? (Integer) value.getAsInt() : null;
    }

    private static void limits(
            Map<String, Object> fields, String lower, String upper, Limits limits) {
        fields.put(lower, limits.lower());
        fields.put(upper, limits.upper());
    }

    /** Name, value, name, value …; a value may be null. */
    private static Map<String, Object> fields(Object... namesAndValues) {
        var fields = new HashMap<String, Object>();
        for (int i = 0; i < namesAndValues.length; i += 2) {
            fields.put((String) namesAndValues[i], namesAndValues[i + 1]);
        }
        return fields;
    }
}
