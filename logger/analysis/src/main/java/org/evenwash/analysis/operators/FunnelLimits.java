package org.evenwash.analysis.operators;

import org.evenwash.analysis.numeric.Probabilities;
import org.evenwash.analysis.numeric.Quantiles;
import org.evenwash.analysis.numeric.Steps;

/**
 * Between which shares an operator lies by chance alone, given how many mites were counted
 * (Spiegelhalter 2005, Stat. Med. 24:1185–1202, interpolated exact binomial limits).
 *
 * @param lower interpolated, 0 to 1
 * @param upper interpolated, 0 to 1
 * @param lowerNormal normal approximation, not clipped
 * @param upperNormal likewise
 */
public record FunnelLimits(double lower, double upper, double lowerNormal, double upperNormal) {

    /** Inner limits: one operator in twenty lies outside by chance. */
    public static final double INNER = 0.95;

    /** Shares added up in another order. */
    private static final double SAME = 1e-12;

    /** Outer limits: one in five hundred. */
    public static final double OUTER = 0.998;

    /**
     * Limits at one number of mites.
     *
     * @param mites above 0; a fraction is allowed, as mites ÷ dispersion is one
     * @param p share of all operators together, 0 to 1
     * @param confidence two-sided, between 0 and 1
     */
    public static FunnelLimits at(double mites, double p, double confidence) {
        if (!(mites > 0 && mites <= 1e15) || !(p >= 0 && p <= 1)) {
            throw new IllegalArgumentException(
                    "no funnel for "
                            + mites
                            + " mites at share "
                            + p
                            + ": need mites above 0, share 0 to 1");
        }
        double tail = (1 - confidence) / 2;
        double normal = -Quantiles.normal(tail) * Math.sqrt(p * (1 - p) / mites);
        return new FunnelLimits(
                interpolated(tail, mites, p),
                interpolated(1 - tail, mites, p),
                p - normal,
                p + normal);
    }

    /**
     * The share that lies as far out around {@code to} as {@code share} does around {@code from}: on
     * the interpolated limit of the same level, so inside one limit exactly where the other is inside.
     */
    static double asFarOut(double share, double mites, double from, double to) {
        if (Math.abs(from - to) < SAME || !(from > 0 && from < 1) || !(to > 0 && to < 1)) {
            return share;
        }
        double x = share * mites;
        long j = (long) Math.ceil(x);
        double reached = atMost(j, mites, from);
        double level = reached - (j - x) * (reached - atMost(j - 1, mites, from));
        if (level <= 0 || level >= 1) {
            return level <= 0 ? 0 : 1;
        }
        return interpolated(level, mites, to);
    }

    private static double interpolated(double u, double mites, double p) {
        if (p == 0 || p == 1) {
            return p;
        }
        long j = Steps.smallestBetween(i -> atMost(i, mites, p) >= u, 0, (long) Math.ceil(mites));
        double reached = atMost(j, mites, p);
        double mass = reached - atMost(j - 1, mites, p);
        double limit = (j - (reached - u) / mass) / mites;
        return Math.max(0, Math.min(1, limit));
    }

    /** The binomial distribution by its beta form, which a fractional size leaves defined. */
    private static double atMost(long j, double size, double p) {
        if (j < 0) {
            return 0;
        }
        return j >= size ? 1 : Probabilities.beta(1 - p, size - j, j + 1.0);
    }
}
