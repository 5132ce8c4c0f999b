package org.evenwash.analysis.fit;

import java.util.function.DoubleUnaryOperator;
import org.evenwash.analysis.numeric.Roots;
import org.hipparchus.optim.MaxEval;
import org.hipparchus.optim.nonlinear.scalar.GoalType;
import org.hipparchus.optim.univariate.BrentOptimizer;
import org.hipparchus.optim.univariate.SearchInterval;
import org.hipparchus.optim.univariate.UnivariateObjectiveFunction;

/** Roots and maxima in one dimension, for log-likelihoods, which may be −∞ at an end of their range. */
public final class Search {

    private static final int MAX_EVALUATIONS = 2_000;

    /**
     * A log-likelihood is flat at its maximum: an error of 1e-7 in the logarithm of a rate costs less
     * than 1e-14 of it per mite.
     */
    private static final double MAXIMUM_TOLERANCE = 1e-7;

    private Search() {}

    /**
     * The root of {@code f} between {@code low} and {@code high}, where it changes sign; unlike {@link
     * Roots#between} it accepts a function that is infinite at an end, as a log-likelihood is.
     */
    public static double root(DoubleUnaryOperator f, double low, double high) {
        return Roots.between(x -> clamped(f.applyAsDouble(x)), low, high);
    }

    /** Where {@code f} is highest between {@code low} and {@code high}: a scan, then Brent. */
    public static double maximum(DoubleUnaryOperator f, double low, double high, int scanned) {
        double step = (high - low) / scanned;
        if (!(step > 0)) {
            return low;
        }
        int best = 0;
        double highest = Double.NEGATIVE_INFINITY;
        for (int i = 0; i <= scanned; i++) {
            double here = clamped(f.applyAsDouble(low + i * step));
            if (here > highest) {
                highest = here;
                best = i;
            }
        }
        double from = low + Math.max(0, best - 1) * step;
        double to = low + Math.min(scanned, best + 1) * step;
        double refined = localMaximum(f, from, to);
        // An end of the range is a legitimate maximum, and Brent only ever approaches it.
        double scannedBest = low + best * step;
        return clamped(f.applyAsDouble(refined)) >= highest ? refined : scannedBest;
    }

    /** Brent's maximum in a range thought to hold a single one. */
    public static double localMaximum(DoubleUnaryOperator f, double from, double to) {
        return new BrentOptimizer(MAXIMUM_TOLERANCE, MAXIMUM_TOLERANCE)
                .optimize(
                        new UnivariateObjectiveFunction(x -> clamped(f.applyAsDouble(x))),
                        GoalType.MAXIMIZE,
                        new SearchInterval(from, to),
                        new MaxEval(MAX_EVALUATIONS))
                .getPoint();
    }

    /** The solvers difference function values, which infinities would turn into NaN. */
    private static double clamped(double value) {
        return Math.max(-1e300, Math.min(1e300, value));
    }
}
