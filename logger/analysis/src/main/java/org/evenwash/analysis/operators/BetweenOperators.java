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
 * The SD between the operators' true shares, with an interval: the moments of DerSimonian and Laird's
 * Q, and the limits of Viechtbauer (2007, Stat. Med. 26:37–52), at which the residuals, weighted by
 * all that makes them scatter, are as large as χ² is. Both are taken within equal conditions: each
 * operator against what the same strata bring off, the strata's shares being those of the same
 * washes. With one stratum they are the usual ones.
 */
final class BetweenOperators {

    /** With fewer operators the SD between them is anybody's guess. */
    static final int MIN_OPERATORS = 4;

    /** A share cannot have a larger SD than a coin's. */
    private static final double LARGEST_VARIANCE = 0.25;

    /** A pivot this small beside its row comes from rounding: that residual follows from the others. */
    private static final double ROUNDING = 1e-9;

    private final Expected expected;
    private final int size;

    /** Covariance of the residuals for each unit of variance between operators. */
    private final double[][] between;

    private BetweenOperators(Expected expected) {
        this.expected = expected;
        size = expected.operators();
        between = new double[size][size];
        for (int j = 0; j < size; j++) {
            for (int k = 0; k < size; k++) {
                for (int l = 0; l < size; l++) {
                    between[j][k] += expected.effect(j, l) * expected.effect(k, l);
                }
            }
        }
    }

    static Result spread(Expected expected, Compared compared) {
        int operators = expected.operators();
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
        return new BetweenOperators(expected).result();
    }

    private Result result() {
        Weighted atNone = weighted(0);
        if (atNone.df() == 0) {
            return new NotEnoughData("washes in which some mites were left on and some came off");
        }
        double tau = moments();
        double upper = Math.sqrt(solve(Quantiles.chiSquare(Level.TAIL, atNone.df())));
        double lower = Math.sqrt(solve(Quantiles.chiSquare(1 - Level.TAIL, atNone.df())));
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

    /** The SD at which Σ residual²/variance would be expected as it is; 0 if it is less by chance. */
    private double moments() {
        double q = 0;
        double byChance = 0;
        double perVariance = 0;
        for (int j = 0; j < size; j++) {
            double variance = expected.variance(j);
            if (variance > 0) {
                q += expected.residual(j) * expected.residual(j) / variance;
                byChance += expected.phi() * expected.noise(j, j) / variance;
                perVariance += between[j][j] / variance;
            }
        }
        return Math.sqrt(Math.max(0, (q - byChance) / perVariance));
    }

    /** The variance between operators at which Q would have this value; 0 if it is below at 0. */
    private double solve(double q) {
        if (weighted(0).q() <= q) {
            return 0;
        }
        if (weighted(LARGEST_VARIANCE).q() >= q) {
            return LARGEST_VARIANCE;
        }
        return Roots.between(v -> weighted(v).q() - q, 0, LARGEST_VARIANCE);
    }

    private record Weighted(double q, int df) {}

    /**
     * Residuals in the metric of their covariance, by Cholesky's factors. In each set of operators
     * that share strata the residuals add up to 0; what follows from the others has no pivot left.
     */
    private Weighted weighted(double variance) {
        double[][] root = new double[size][size];
        double[] reduced = new double[size];
        double q = 0;
        int df = 0;
        for (int k = 0; k < size; k++) {
            double own = covariance(k, k, variance);
            double pivot = own;
            double residual = expected.residual(k);
            for (int l = 0; l < k; l++) {
                pivot -= root[k][l] * root[k][l];
                residual -= root[k][l] * reduced[l];
            }
            if (!(pivot > ROUNDING * own)) {
                continue;
            }
            root[k][k] = Math.sqrt(pivot);
            reduced[k] = residual / root[k][k];
            q += reduced[k] * reduced[k];
            df++;
            for (int j = k + 1; j < size; j++) {
                double sum = covariance(j, k, variance);
                for (int l = 0; l < k; l++) {
                    sum -= root[j][l] * root[k][l];
                }
                root[j][k] = sum / root[k][k];
            }
        }
        return new Weighted(q, df);
    }

    private double covariance(int j, int k, double variance) {
        return expected.phi() * expected.noise(j, k) + variance * between[j][k];
    }
}
