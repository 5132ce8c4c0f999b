package org.evenwash.analysis.agitation;

import java.util.function.DoubleUnaryOperator;
import org.evenwash.analysis.fit.Search;

/** Where a log-likelihood has fallen so far from its maximum that a parameter value is ruled out. */
final class ProfileLimits {

    private static final double SHORTEST_STEP = 1e-5;
    private static final double LONGEST_STEP = 0.5;

    /** e^±600 is nearly as far as a positive double goes; a limit beyond it is reported as 0 or ∞. */
    private static final double FURTHEST = 600;

    private final DoubleUnaryOperator excess;
    private final double firstStep;

    /**
     * Prepares a search.
     *
     * @param profile log-likelihood with the (positive) parameter held at a value
     * @param highest the maximum of the log-likelihood
     * @param cutoff by which twice the log-likelihood may fall
     * @param mites in all: with them the first step is about as long as the interval is wide
     */
    ProfileLimits(DoubleUnaryOperator profile, double highest, double cutoff, double mites) {
        double width = Math.sqrt(2 * cutoff / mites);
        firstStep = Math.max(SHORTEST_STEP, Math.min(LONGEST_STEP, width));
        excess = log -> 2 * (highest - profile.applyAsDouble(Math.exp(log))) - cutoff;
    }

    /** The first value below {@code from} that is ruled out, or 0 if none is. */
    double below(double from) {
        return outward(Math.log(from), -1, 0);
    }

    /** The first value above {@code from} that is ruled out, or infinity if none is. */
    double above(double from) {
        return outward(Math.log(from), 1, Double.POSITIVE_INFINITY);
    }

    /** Whether {@code value} is ruled out. */
    boolean rulesOut(double value) {
        return excess.applyAsDouble(Math.log(value)) > 0;
    }

    private double outward(double from, int direction, double none) {
        double inside = from;
        double step = firstStep;
        if (excess.applyAsDouble(inside) > 0) {
            return Math.exp(
                    inside); // rounding alone rules out even the best value: counts are enormous
        }
        while (Math.abs(inside) < FURTHEST) {
            double outside = Math.max(-FURTHEST, Math.min(FURTHEST, inside + direction * step));
            if (excess.applyAsDouble(outside) > 0) {
                return Math.exp(
                        Search.root(excess, Math.min(inside, outside), Math.max(inside, outside)));
            }
            inside = outside;
            step *= 2;
        }
        return none;
    }
}
