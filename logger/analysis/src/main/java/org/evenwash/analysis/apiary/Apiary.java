package org.evenwash.analysis.apiary;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.Result.Side;
import org.evenwash.analysis.infestation.BeesInSample;
import org.evenwash.analysis.infestation.CorrectedRate;
import org.evenwash.analysis.infestation.Infestation;
import org.evenwash.analysis.infestation.PoissonRate;
import org.evenwash.analysis.numeric.Quantiles;
import org.evenwash.analysis.recovery.PredictiveBeta;

/** Results for a whole apiary from the colonies that were washed. */
public final class Apiary {

    static final String ALL_ZERO =
            "No mite in any wash: the limit takes the washed bees as one sample, so it speaks of the"
                    + " colonies washed and says little of the others.";
    static final String POINTS_ONLY =
            "Two colonies give points, not an interval (t is 12.7); wash at least three.";
    static final String READINGS_ONLY =
            "The bound concerns wash readings. A wash that reads a bad colony as good weakens it:"
                    + " state the sensitivity, or use a lower action limit.";

    private Apiary() {}

    /** Mean infestation of all colonies, mites per 100 bees, not corrected for recovery. */
    public static Result mean(List<ColonyWash> washes, int colonies) {
        Result refused = refusal(washes, colonies);
        if (refused != null) {
            return refused;
        }
        if (allZero(washes)) {
            return new Bound(
                    Side.AT_MOST, PoissonRate.of(0, pooledBees(washes)).upper(), List.of(ALL_ZERO));
        }
        if (washes.size() == 1) {
            return onlyColony(PoissonRate.of(washes.get(0).mites(), washes.get(0).bees()));
        }
        ApiaryMean mean = ApiaryMean.of(washes, colonies);
        return washes.size() == 2
                ? pointsOnly(mean.mean(), List.of())
                : new Estimate(mean.mean(), mean.limits().lower(), mean.limits().upper());
    }

    /** As {@link #mean}, divided by a recovery that all washes share. */
    public static Result meanCorrected(
            List<ColonyWash> washes, int colonies, PredictiveBeta recovery) {
        Result refused = refusal(washes, colonies);
        if (refused != null) {
            return refused;
        }
        String remark =
                String.format(
                        Locale.ROOT, "Corrected for a recovery of %.0f %%.", 100 * recovery.mean());
        if (allZero(washes)) {
            BeesInSample bees = BeesInSample.counted(pooledBees(washes));
            double upper = CorrectedRate.of(0, bees, recovery).upper();
            return Double.isInfinite(upper)
                    ? new NotEnoughData("a better calibration of recovery")
                    : new Bound(Side.AT_MOST, upper, List.of(ALL_ZERO, remark));
        }
        if (washes.size() == 1) {
            BeesInSample bees = BeesInSample.counted(washes.get(0).bees());
            return Infestation.corrected(washes.get(0).mites(), bees, recovery);
        }
        ApiaryMean mean = ApiaryMean.of(washes, colonies);
        double value = mean.mean() / recovery.mean();
        if (washes.size() == 2) {
            return pointsOnly(value, List.of(remark));
        }
        double relative =
                Quantiles.student95(washes.size() - 1)
                        * Math.hypot(
                                mean.se() / mean.mean(), Math.sqrt(recovery.relativeVariance()));
        return new Estimate(
                value, value * Math.exp(-relative), value * Math.exp(relative), List.of(remark));
    }

    /** At most so many of all colonies are over the threshold, with 95 %. */
    public static Bound atMostOver(int over, int washed, int colonies) {
        return new Bound(
                Side.AT_MOST,
                ColoniesOver.of(over, washed, colonies).atMost(),
                List.of(READINGS_ONLY));
    }

    /** At least so many of all colonies are over the threshold, with 95 %. */
    public static Bound atLeastOver(int over, int washed, int colonies) {
        return new Bound(
                Side.AT_LEAST,
                ColoniesOver.of(over, washed, colonies).atLeast(),
                List.of(READINGS_ONLY));
    }

    private static Result refusal(List<ColonyWash> washes, int colonies) {
        if (washes.size() > colonies) {
            throw new IllegalArgumentException(
                    washes.size() + " colonies washed of an apiary of " + colonies);
        }
        if (washes.isEmpty()) {
            return new NotEnoughData("washes of at least 3 colonies (now none)");
        }
        if (washes.size() == 1 && colonies > 1) {
            PoissonRate one = PoissonRate.of(washes.get(0).mites(), washes.get(0).bees());
            String remark =
                    String.format(
                            Locale.ROOT,
                            "The one colony washed: %.2f mites per 100 bees (95 %%: %.2f to %.2f).",
                            one.value(),
                            Math.floor(100 * one.lower()) / 100,
                            Math.ceil(100 * one.upper()) / 100);
            return new NotEnoughData(
                    "washes of at least 3 colonies (now 1): one says nothing of the apiary",
                    List.of(remark));
        }
        return null;
    }

    /** Where the apiary is one colony, its wash is the whole story. */
    private static Result onlyColony(PoissonRate rate) {
        return new Estimate(rate.value(), rate.lower(), rate.upper());
    }

    private static Result pointsOnly(double value, List<String> remarks) {
        var all = new ArrayList<>(remarks);
        all.add(POINTS_ONLY);
        return new Estimate(value, Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY, all);
    }

    private static boolean allZero(List<ColonyWash> washes) {
        return washes.stream().allMatch(wash -> wash.mites() == 0);
    }

    private static double pooledBees(List<ColonyWash> washes) {
        return washes.stream().mapToDouble(ColonyWash::bees).sum();
    }
}
