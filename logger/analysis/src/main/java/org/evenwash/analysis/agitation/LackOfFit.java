package org.evenwash.analysis.agitation;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import org.evenwash.analysis.fit.Binomials;
import org.evenwash.analysis.numeric.Probabilities;

/**
 * Whether a curve misses the shares seen at the times that were tried.
 *
 * @param x2 Pearson's X² of the washes grouped by equal time
 * @param df distinct times, less parameters
 * @param chiSquareP its tail, which takes mites for independent
 * @param pureErrorF x2/df over the scatter of replicate washes at equal times; empty without
 *     replicates, or where these do not scatter at all
 * @param pureErrorP its tail
 * @param patterned whether the residuals change sign at most twice along time, as a wrong curve makes
 *     them do
 */
public record LackOfFit(
        double x2,
        int df,
        double chiSquareP,
        OptionalDouble pureErrorF,
        OptionalDouble pureErrorP,
        boolean patterned) {

    private static final double MISFIT_P = 0.01;
    private static final double SUSPECT_P = 0.05;
    private static final int ARC_SIGN_CHANGES = 2;

    /** The p-value to judge by: against replicates where there are any. */
    public double p() {
        return pureErrorP.orElse(chiSquareP);
    }

    /** The curve does not fit. */
    public boolean misfit() {
        return p() < MISFIT_P;
    }

    /** The curve does not fit, or may not, in the way a wrong curve would. */
    public boolean suspect() {
        return misfit() || (p() < SUSPECT_P && patterned);
    }

    /** Compares the exponential curve with the shares at each time; nothing to tell without df. */
    static Optional<LackOfFit> of(List<TimedWash> washes, ExponentialFit fit) {
        var groups = new TreeMap<Double, Group>();
        for (TimedWash wash : washes) {
            if (wash.mites() > 0) {
                groups.computeIfAbsent(wash.agitationS(), t -> new Group()).add(wash);
            }
        }
        int df = groups.size() - fit.model().parameters();
        if (df < 1) {
            return Optional.empty();
        }
        double x2 = 0;
        double within = 0;
        int dfWithin = 0;
        int changes = 0;
        double lastSign = 0;
        for (var entry : groups.entrySet()) {
            Group group = entry.getValue();
            double p = fit.share(entry.getKey());
            double r = Math.exp(-fit.k() * entry.getKey());
            x2 += Binomials.pearson(group.first, group.second, p, r);
            double sign = Math.signum(group.first * r - group.second * p);
            changes += sign != 0 && lastSign != 0 && sign != lastSign ? 1 : 0;
            lastSign = sign != 0 ? sign : lastSign;
            if (group.mixed()) {
                within += group.scatter();
                dfWithin += group.washes - 1;
            }
        }
        OptionalDouble f = OptionalDouble.empty();
        OptionalDouble fP = OptionalDouble.empty();
        if (dfWithin > 0 && within > 0) {
            f = OptionalDouble.of(x2 / df / (within / dfWithin));
            fP = OptionalDouble.of(Probabilities.fisherAbove(f.getAsDouble(), df, dfWithin));
        }
        return Optional.of(
                new LackOfFit(
                        x2,
                        df,
                        Probabilities.chiSquareAbove(x2, df),
                        f,
                        fP,
                        changes <= ARC_SIGN_CHANGES));
    }

    private static final class Group {
        private double first;
        private double second;
        private int washes;
        private double squares;

        void add(TimedWash wash) {
            first += wash.firstWashMites();
            second += wash.secondWashMites();
            washes++;
            // Σ(m1−pN)²/N comes to Σm1²/N − p·Σm1 when p is the share of the whole group.
            squares += (double) wash.firstWashMites() * wash.firstWashMites() / wash.mites();
        }

        boolean mixed() {
            return first > 0 && second > 0;
        }

        /** Pearson's X² of the washes about the share of their own group. */
        double scatter() {
            double n = first + second;
            double p = first / n;
            return Math.max(0, squares - p * first) / (p * (second / n));
        }
    }
}
