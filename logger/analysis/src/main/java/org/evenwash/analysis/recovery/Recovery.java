package org.evenwash.analysis.recovery;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.Result.Side;
import org.evenwash.analysis.numeric.Level;
import org.evenwash.analysis.numeric.Limits;

/** The share of mites that one wash brings off, in per cent from 0 to 100. */
public final class Recovery {

    static final String VARIATION_UNKNOWN = "One wash: the variation between washes is unknown.";
    static final String DEPLETION_ONLY =
            "Rests on both washes being equally thorough. Mites that cling harder make it too high.";

    private static final int LEAST_WASHES = 4;
    private static final int LEAST_MITES = 30;
    private static final int BETA_BINOMIAL_WASHES = 10;

    private Recovery() {}

    /** From second washes that found all the rest. Shown from a single wash on, with its cautions. */
    public static Result exhaustive(List<WashPair> pairs) {
        RecountSummary summary = RecountSummary.of(pairs);
        if (summary.washes() == 0) {
            return noMites();
        }
        return answer(summary.p(), summary.limits(), cautions(pairs, summary));
    }

    /** As {@link #exhaustive}, but refused below 4 washes with mites or 30 mites in all. */
    public static Result exhaustiveForVerdict(List<WashPair> pairs) {
        Result shown = exhaustive(pairs);
        RecountSummary summary = RecountSummary.of(pairs);
        if (isEnoughForVerdict(summary)) {
            return shown;
        }
        return new NotEnoughData(
                "at least 4 washes with mites and 30 mites in both washes together (now "
                        + summary.washes()
                        + " and "
                        + summary.mites()
                        + ")",
                shown.remarks());
    }

    /**
     * From second washes that themselves bring off only part of what is left: r = πr₂ / (1 − π + πr₂).
     * Taking such a second wash for exhaustive always gives too high a recovery.
     *
     * @param secondWashRecovery above 0, at most 1, known from a third wash or a stronger method
     */
    public static Result withSecondWashOf(double secondWashRecovery, List<WashPair> pairs) {
        double r2 = secondWashRecovery;
        if (!(r2 > 0 && r2 <= 1)) {
            throw new IllegalArgumentException(
                    "the second wash's recovery must be above 0 and at most 1, not " + r2);
        }
        RecountSummary summary = RecountSummary.of(pairs);
        if (summary.washes() == 0) {
            return noMites();
        }
        List<String> remarks = cautions(pairs, summary);
        remarks.add(
                String.format(
                        Locale.ROOT,
                        "The second wash is taken to bring off %.0f %% of what is left.",
                        100 * r2));
        return answer(
                inverted(summary.p(), r2),
                summary.limits().map(share -> inverted(share, r2)),
                remarks);
    }

    /** From two washes of equal effort each, pooled, with exact limits on the effective size. */
    public static Result equalEffort(List<WashPair> pairs) {
        RecountSummary summary = RecountSummary.of(pairs);
        if (summary.washes() == 0) {
            return noMites();
        }
        List<String> remarks = cautions(pairs, summary);
        remarks.add(DEPLETION_ONLY);
        double size = summary.effectiveSize();
        Limits limits = TwoPass.exact(size * summary.p(), size);
        if (summary.p() <= 0.5) {
            remarks.add("The second washes found no fewer mites than the first: no estimate.");
            return new Bound(Side.AT_MOST, 100 * limits.upper(), remarks);
        }
        return answer(TwoPass.recovery(summary.p()), limits, remarks);
    }

    /** From three washes of equal effort; large-sample limits, so 30 mites are needed. */
    public static Result threePasses(int c1, int c2, int c3) {
        ThreePass fit = ThreePass.of(c1, c2, c3);
        long mites = (long) c1 + c2 + c3;
        if (mites < LEAST_MITES) {
            return new NotEnoughData("at least 30 mites in the three washes (now " + mites + ")");
        }
        if (Double.isNaN(fit.seP())) {
            return new NotEnoughData(
                    c1 <= c3
                            ? "a third wash that finds fewer mites than the first (now "
                                    + c3
                                    + " and "
                                    + c1
                                    + ")"
                            : "a mite in the second or third wash; with none the large-sample limits"
                                    + " are not defined: analyse the first two washes instead");
        }
        double half = Level.Z * fit.seP();
        Limits limits = new Limits(Math.max(0, fit.p() - half), Math.min(1, fit.p() + half));
        String total =
                String.format(
                        Locale.ROOT,
                        "About %.1f mites were on the bees (standard error %.1f).",
                        fit.total(),
                        fit.seTotal());
        return answer(
                fit.p(),
                limits,
                List.of(
                        total,
                        DEPLETION_ONLY,
                        "Large-sample limits; their coverage was not tried."));
    }

    /** At least 4 washes with mites and 30 mites in all. */
    public static boolean isEnoughForVerdict(RecountSummary summary) {
        return summary.washes() >= LEAST_WASHES && summary.mites() >= LEAST_MITES;
    }

    static double inverted(double share, double r2) {
        return share * r2 / (1 - share + share * r2);
    }

    private static Result answer(double share, Limits limits, List<String> remarks) {
        if (share == 1) {
            return new Bound(Side.AT_LEAST, 100 * limits.lower(), remarks);
        }
        if (share == 0) {
            return new Bound(Side.AT_MOST, 100 * limits.upper(), remarks);
        }
        return new Estimate(
                100 * share,
                100 * Math.min(share, limits.lower()),
                100 * Math.max(share, limits.upper()),
                remarks);
    }

    private static List<String> cautions(List<WashPair> pairs, RecountSummary summary) {
        var remarks = new ArrayList<String>();
        if (summary.washes() == 1) {
            remarks.add(VARIATION_UNKNOWN);
        }
        long reversed = pairs.stream().filter(pair -> pair.second() > pair.first()).count();
        if (reversed > 0) {
            remarks.add(
                    reversed
                            + " of the washes found more mites the second time: check the labels, or the"
                            + " wash is too short.");
        }
        if (summary.phiRaw() > 1 && summary.pearsonP() < 0.05) {
            remarks.add(
                    String.format(
                            Locale.ROOT,
                            "Washes differ more than chance would have them (dispersion %.1f); the"
                                    + " interval allows for it.",
                            summary.phiRaw()));
        }
        if (summary.washes() >= BETA_BINOMIAL_WASHES
                && summary.mites() <= BetaBinomial.MOST_MITES) {
            double rho = BetaBinomial.of(pairs).rho();
            if (!Double.isNaN(rho)) {
                remarks.add(
                        String.format(
                                Locale.ROOT, "Correlation of mites within a wash: %.3f.", rho));
            }
        }
        if (summary.p() == 1) {
            remarks.add("Every second wash found nothing.");
        }
        return remarks;
    }

    private static NotEnoughData noMites() {
        return new NotEnoughData("washes with at least one mite");
    }
}
