package org.evenwash.analysis.numeric;

import org.hipparchus.special.Beta;
import org.hipparchus.special.Erf;
import org.hipparchus.special.Gamma;

/**
 * Cumulative and tail probabilities of the continuous laws. Arguments may be any non-negative number;
 * shapes and degrees of freedom must be above zero, whole or not.
 */
public final class Probabilities {

    private static final double EPSILON = 1e-15;

    /** The series needs some ten times the square root of the shape: enough for shapes up to 1e11. */
    private static final int MOST_TERMS = 10_000_000;

    private Probabilities() {}

    /** P(Gamma(shape, 1) ≤ x). */
    public static double gamma(double x, double shape) {
        return x <= 0 ? 0 : Gamma.regularizedGammaP(shape, x, EPSILON, MOST_TERMS);
    }

    /** P(Gamma(shape, 1) &gt; x). */
    public static double gammaAbove(double x, double shape) {
        return x <= 0 ? 1 : Gamma.regularizedGammaQ(shape, x, EPSILON, MOST_TERMS);
    }

    /** P(χ² with df degrees of freedom &gt; x). */
    public static double chiSquareAbove(double x, double df) {
        return gammaAbove(x / 2, df / 2);
    }

    /** P(Beta(a, b) ≤ x). */
    public static double beta(double x, double a, double b) {
        if (x <= 0) {
            return 0;
        }
        if (x >= 1) {
            return 1;
        }
        // Each branch is the one in which the library's continued fraction converges fast.
        return x <= (a + 1) / (a + b + 2)
                ? Beta.regularizedBeta(x, a, b, EPSILON, MOST_TERMS)
                : 1 - Beta.regularizedBeta(1 - x, b, a, EPSILON, MOST_TERMS);
    }

    /** P(F with df1 and df2 degrees of freedom &gt; x). */
    public static double fisherAbove(double x, double df1, double df2) {
        if (x <= 0) {
            return 1;
        }
        return beta(df2 / (df2 + df1 * x), df2 / 2, df1 / 2);
    }

    /** P(|Student's t with df degrees of freedom| &gt; |t|). */
    public static double studentTwoSided(double t, double df) {
        return fisherAbove(t * t, 1, df);
    }

    /** P(standard normal ≤ x). */
    public static double normal(double x) {
        return 0.5 * Erf.erfc(-x / Math.sqrt(2));
    }
}
