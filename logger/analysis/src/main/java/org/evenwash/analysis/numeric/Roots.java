package org.evenwash.analysis.numeric;

import java.util.function.DoubleUnaryOperator;
import org.hipparchus.analysis.solvers.AllowedSolution;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;

/** Roots of continuous functions of one variable. */
public final class Roots {

    private static final double TIGHT = 1e-15;
    private static final double SMALLEST_STEP = 1e-300;

    /** The solver halves its bracket at least every fourth step, so this is never reached. */
    private static final int MOST_EVALUATIONS = 5_000;

    private Roots() {}

    /**
     * The root between two points where the function has opposite signs (or is zero), to about 1e-15
     * relative.
     *
     * @throws IllegalArgumentException if the signs do not differ
     */
    public static double between(DoubleUnaryOperator f, double low, double high) {
        double atLow = f.applyAsDouble(low);
        double atHigh = f.applyAsDouble(high);
        if (atLow == 0) {
            return low;
        }
        if (atHigh == 0) {
            return high;
        }
        if (!(atLow < 0 && atHigh > 0) && !(atLow > 0 && atHigh < 0)) {
            throw new IllegalArgumentException(
                    "no sign change: f(" + low + ") = " + atLow + ", f(" + high + ") = " + atHigh);
        }
        var solver =
                new BracketingNthOrderBrentSolver(TIGHT, absolute(low, high), SMALLEST_STEP, 5);
        return solver.solve(
                MOST_EVALUATIONS, f::applyAsDouble, low, high, AllowedSolution.ANY_SIDE);
    }

    /**
     * The root of an increasing function, looked for outward from a guess in doubling steps.
     *
     * @param lowest where to stop looking: returned if the function is still positive there
     * @param highest where to stop looking: returned if the function is still negative there
     */
    public static double ofIncreasing(
            DoubleUnaryOperator f, double guess, double step, double lowest, double highest) {
        double low = Math.max(lowest, Math.min(guess, highest));
        double high = low;
        double stride = step;
        if (f.applyAsDouble(low) > 0) {
            do {
                if (low <= lowest) {
                    return lowest;
                }
                high = low;
                low = Math.max(lowest, low - stride);
                stride *= 2;
            } while (f.applyAsDouble(low) > 0);
        } else {
            do {
                if (high >= highest) {
                    return highest;
                }
                low = high;
                high = Math.min(highest, high + stride);
                stride *= 2;
            } while (f.applyAsDouble(high) <= 0);
        }
        return between(f, low, high);
    }

    /** Relative accuracy means nothing at a root at zero, so the bracket's own scale bounds it there. */
    private static double absolute(double low, double high) {
        return Math.max(SMALLEST_STEP, 1e-17 * (high - low));
    }
}
