package org.evenwash.analysis.infestation;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.Result.Side;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.recovery.PredictiveBeta;
import org.evenwash.analysis.recovery.RecountSummary;
import org.evenwash.analysis.recovery.Recovery;

/**
 * Infestation of one sample in mites per 100 bees. Without a single mite the answer is a bound: zero
 * mites on 300 bees is "0, up to 1.23".
 */
public final class Infestation {

    static final String NOT_CORRECTED =
            "Not corrected for recovery: mites that the wash left on the bees are missing, so this is a"
                    + " lower bound on the truth.";
    static final String LOW_RECOVERY =
            "Recovery is too low or too uncertain to correct for (mean below 50 % or lower limit below"
                    + " 30 %): the figure is as washed. Repeat the calibration with longer washes.";
    static final String RECOVERY_UNKNOWN =
            "Recovery too variable or unknown: the figure is as washed, without a corrected interval.";
    static final String PROVISIONAL_RECOVERY =
            "Provisional: a verdict needs a recovery from at least 4 washes with 30 mites in all.";
    static final String DECIMAL_BEES =
            "The bees were estimated, not counted; how far the estimate may be off is not known, so the"
                    + " interval leaves it out.";

    private static final double LEAST_MEAN_RECOVERY = 0.5;
    private static final double LEAST_LOWER_RECOVERY = 0.3;

    private Infestation() {}

    /**
     * From counted bees, with exact Poisson limits.
     *
     * @param mites 0 to 1,000,000
     * @param bees above 0, else the answer is {@link NotEnoughData}; decimals are taken as an estimate
     */
    public static Result counted(int mites, double bees) {
        if (!(bees > 0)) {
            return beesMissing(bees);
        }
        PoissonRate rate = PoissonRate.of(mites, bees);
        var remarks = new ArrayList<String>();
        if (bees != Math.rint(bees)) {
            remarks.add(DECIMAL_BEES);
        }
        remarks.add(NOT_CORRECTED);
        return answer(mites, rate.value(), rate.lower(), rate.upper(), remarks);
    }

    /** From bees whose number was estimated by fill line or mass; not corrected for recovery. */
    public static Result estimated(int mites, BeesInSample bees) {
        return estimated(mites, bees, List.of(NOT_CORRECTED));
    }

    /** Corrected for the recovery of one new wash. */
    public static Result corrected(int mites, BeesInSample bees, PredictiveBeta recovery) {
        if (recovery.mean() < LEAST_MEAN_RECOVERY
                || recovery.limits().lower() < LEAST_LOWER_RECOVERY) {
            return estimated(mites, bees, List.of(LOW_RECOVERY, NOT_CORRECTED));
        }
        CorrectedRate rate = CorrectedRate.of(mites, bees, recovery);
        String remark =
                String.format(
                        Locale.ROOT,
                        "Corrected for a recovery of %.0f %%. Thresholds in guidelines are meant for"
                                + " washes as counted.",
                        100 * recovery.mean());
        return answer(mites, rate.value(), rate.lower(), rate.upper(), with(bees, remark));
    }

    /** Corrected by a calibration from second washes, where that supports a correction. */
    public static Result corrected(int mites, BeesInSample bees, RecountSummary calibration) {
        boolean few = !Recovery.isEnoughForVerdict(calibration);
        var known = few ? bees.with(PROVISIONAL_RECOVERY) : bees;
        return PredictiveBeta.from(calibration)
                .map(recovery -> corrected(mites, known, recovery))
                .orElseGet(() -> estimated(mites, bees, List.of(RECOVERY_UNKNOWN, NOT_CORRECTED)));
    }

    /** The share of bees that carry a mite, in per cent, with exact limits for claims. */
    public static Result infestedBees(int infested, int bees) {
        if (bees <= 0) {
            return beesMissing(bees);
        }
        if (infested > bees) {
            return new NotEnoughData(
                    "a count of infested bees, at most the "
                            + bees
                            + " bees (now "
                            + infested
                            + "; mites are not infested bees)");
        }
        Proportion share = Proportion.of(infested, bees);
        Limits percent = share.exact().map(limit -> 100 * limit);
        return answer(infested, 100 * share.value(), percent.lower(), percent.upper(), List.of());
    }

    private static Result estimated(int mites, BeesInSample bees, List<String> remarks) {
        CorrectedRate rate = CorrectedRate.uncorrected(mites, bees);
        return answer(
                mites,
                rate.value(),
                rate.lower(),
                rate.upper(),
                with(bees, remarks.toArray(new String[0])));
    }

    private static List<String> with(BeesInSample bees, String... remarks) {
        var all = new ArrayList<>(bees.remarks());
        all.addAll(List.of(remarks));
        return all;
    }

    private static Result answer(
            int found, double value, double lower, double upper, List<String> remarks) {
        if (found > 0) {
            return new Estimate(value, lower, upper, remarks);
        }
        if (Double.isInfinite(upper)) {
            return new NotEnoughData("a better calibration of bees and recovery", remarks);
        }
        return new Bound(Side.AT_MOST, upper, remarks);
    }

    private static NotEnoughData beesMissing(double bees) {
        return new NotEnoughData(
                Double.isNaN(bees)
                        ? "the number of bees in the sample"
                        : "a number of bees above 0 (now " + bees + ")");
    }
}
