package org.evenwash.analysis.operators;

import java.util.List;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.Result.Side;
import org.evenwash.analysis.numeric.Level;
import org.evenwash.analysis.numeric.Quantiles;
import org.evenwash.analysis.numeric.Roots;

/**
 * The SD between the operators' true shares, with an interval: DerSimonian and Laird's estimate, and
 * the Q-profile limits of Viechtbauer (2007, Stat. Med. 26:37–52), which invert the same Q. The
 * interval is a textbook one; its coverage was not simulated for washes.
 */
final class BetweenOperators {

    /** With fewer operators the SD between them is anybody's guess. */
    static final int MIN_OPERATORS = 4;

    /** A share cannot have a larger SD than a coin's. */
    private static final double LARGEST_VARIANCE = 0.25;

    private final double[] share;
    private final double[] variance;

    private BetweenOperators(List<OperatorTotals.Total> totals, double pooled, double phi) {
        share = totals.stream().mapToDouble(OperatorTotals.Total::share).toArray();
        variance =
                totals.stream().mapToDouble(t -> phi * pooled * (1 - pooled) / t.mites()).toArray();
    }

    static Result spread(OperatorTotals totals, Compared compared) {
        int operators = totals.list().size();
        if (operators < MIN_OPERATORS) {
            return new NotEnoughData(
                    "at least "
                            + MIN_OPERATORS
                            + " "
                            + compared.many()
                            + " (now "
                            + operators
                            + ")");
        }
        double phi = totals.phiWithin();
        return totals.homogeneity(phi)
                .map(h -> new BetweenOperators(totals.list(), h.pooled(), phi).result(h.tau()))
                .orElseGet(
                        () ->
                                new NotEnoughData(
                                        "washes in which some mites were left on and some came off"));
    }

    private Result result(double tau) {
        double df = share.length - 1.0;
        double upper = Math.sqrt(solve(Quantiles.chiSquare(Level.TAIL, df)));
        double lower = Math.sqrt(solve(Quantiles.chiSquare(1 - Level.TAIL, df)));
        if (tau > 0) {
            return new Estimate(tau, Math.min(lower, tau), Math.max(upper, tau));
        }
        if (upper > 0) {
            return new Bound(
                    Side.AT_MOST,
                    upper,
                    List.of("The shares differ no more than chance alone makes them."));
        }
        return new NotEnoughData(
                "more washes: the shares lie closer together than chance would put them, which says"
                        + " nothing about a spread");
    }

    /** The variance between operators at which Q would have this value; 0 if it is below at 0. */
    private double solve(double q) {
        if (q(0) <= q) {
            return 0;
        }
        if (q(LARGEST_VARIANCE) >= q) {
            return LARGEST_VARIANCE;
        }
        return Roots.between(v -> q(v) - q, 0, LARGEST_VARIANCE);
    }

    private double q(double between) {
        double weights = 0;
        double weighted = 0;
        for (int j = 0; j < share.length; j++) {
            weights += 1 / (variance[j] + between);
            weighted += share[j] / (variance[j] + between);
        }
        double mean = weighted / weights;
        double sum = 0;
        for (int j = 0; j < share.length; j++) {
            sum += (share[j] - mean) * (share[j] - mean) / (variance[j] + between);
        }
        return sum;
    }
}
