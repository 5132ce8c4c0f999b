package org.evenwash.analysis.fit;

import org.hipparchus.special.Gamma;

/**
 * The pieces every binomial fit is judged by, for one row of {@code x} hits and {@code y} misses
 * (N = x + y) at hit probability {@code p} = 1 − {@code r}. Both p and r are passed so that a fit
 * that comes within rounding of 0 or 1 still gives finite pieces; counts are doubles because pooled
 * rows may exceed an int.
 */
public final class Binomials {

    /**
     * A row to which the fit gives less probability than this is missed so badly that its exact figure
     * does not matter; without a floor it would be infinite, and sums of such rows undefined.
     */
    private static final double LEAST = 1e-280;

    private Binomials() {}

    /** ln C(x+y, x), the part of the log-likelihood that no parameter touches. */
    public static double logChoose(double x, double y) {
        if (x <= 0 || y <= 0) {
            return 0;
        }
        return Gamma.logGamma(x + y + 1) - Gamma.logGamma(x + 1) - Gamma.logGamma(y + 1);
    }

    /** x ln p + y ln r with 0·ln 0 = 0, for probabilities down to 1e-280. */
    public static double kernel(double x, double y, double p, double r) {
        return timesLog(x, p) + timesLog(y, r);
    }

    /** Twice the log-likelihood this row lacks against a fit that meets it exactly. */
    public static double deviance(double x, double y, double p, double r) {
        double n = x + y;
        double lacking = 0;
        if (x > 0) {
            lacking += x * (Math.log(x / n) - Math.log(Math.max(p, LEAST)));
        }
        if (y > 0) {
            lacking += y * (Math.log(y / n) - Math.log(Math.max(r, LEAST)));
        }
        return 2 * lacking;
    }

    /** Pearson's (x−Np)²/(Np(1−p)). */
    public static double pearson(double x, double y, double p, double r) {
        double n = x + y;
        if (y == 0) {
            return n * (r / Math.max(p, LEAST));
        }
        if (x == 0) {
            return n * (p / Math.max(r, LEAST));
        }
        double residual = x * r - y * p;
        return residual / Math.max(p, LEAST) * (residual / Math.max(r, LEAST) / n);
    }

    /**
     * (1−2p)(x−Np)/(Np(1−p)): one row's term of the mean by which Fletcher (2012, Biometrika
     * 99:230–237) steadies Pearson's dispersion when counts are small.
     */
    public static double fletcher(double x, double y, double p, double r) {
        double n = x + y;
        if (y == 0) {
            return (r - p) / Math.max(p, LEAST);
        }
        if (x == 0) {
            return -(r - p) / Math.max(r, LEAST);
        }
        return (r - p) * ((x * r - y * p) / Math.max(p, LEAST) / Math.max(r, LEAST) / n);
    }

    private static double timesLog(double count, double p) {
        return count > 0 ? count * Math.log(Math.max(p, LEAST)) : 0;
    }
}
