package org.evenwash.analysis.numeric;

import java.util.function.DoubleUnaryOperator;

/**
 * Quantiles of the continuous laws, to about 1e-13 relative, for any probability strictly between 0
 * and 1. Shapes and degrees of freedom must be above zero, whole or not.
 */
public final class Quantiles {

    /** exp of less than this is zero in a double. */
    private static final double LOG_OF_SMALLEST = -745;

    private Quantiles() {}

    /** Quantile of Gamma(shape, scale 1). Zero where the true value is too small for a double. */
    public static double gamma(double p, double shape) {
        double z = p < 0.5 ? -roughNormal(p) : roughNormal(1 - p);
        double c = 1 / (9 * shape);
        // Wilson and Hilferty 1931: the cube root of a gamma variable is nearly normal.
        double cube = Math.max(1 - c + z * Math.sqrt(c), 0.1);
        double guess = Math.log(shape) + 3 * Math.log(cube);
        DoubleUnaryOperator excess =
                p < 0.5
                        ? s -> Probabilities.gamma(Math.exp(s), shape) - p
                        : s -> (1 - p) - Probabilities.gammaAbove(Math.exp(s), shape);
        double step = 0.01 / Math.sqrt(1 + shape);
        return Math.exp(Roots.ofIncreasing(excess, guess, step, LOG_OF_SMALLEST, 700));
    }

    /** Quantile of chi-square with df degrees of freedom. */
    public static double chiSquare(double p, double df) {
        return 2 * gamma(p, df / 2);
    }

    /** Quantile of Beta(a, b). */
    public static double beta(double p, double a, double b) {
        double s = logitOfBeta(p, a, b);
        return s < 0 ? Math.exp(s) / (1 + Math.exp(s)) : 1 / (1 + Math.exp(-s));
    }

    /** Quantile of Student's t with df degrees of freedom. */
    public static double student(double p, double df) {
        if (p == 0.5) {
            return 0;
        }
        double squared = fisher(1 - 2 * Math.min(p, 1 - p), 1, df);
        return p < 0.5 ? -Math.sqrt(squared) : Math.sqrt(squared);
    }

    /** The factor of a two-sided 95 % interval: the 97.5 % point of t with df degrees of freedom. */
    public static double student95(double df) {
        return Math.sqrt(fisher(0.95, 1, df));
    }

    /** Quantile of F with df1 and df2 degrees of freedom. */
    public static double fisher(double p, double df1, double df2) {
        return df2 / df1 * Math.exp(logitOfBeta(p, df1 / 2, df2 / 2));
    }

    /** Quantile of the standard normal law. */
    public static double normal(double p) {
        if (p == 0.5) {
            return 0;
        }
        double tail = Math.min(p, 1 - p);
        double magnitude =
                Roots.ofIncreasing(
                        x -> tail - Probabilities.normal(-x), roughNormal(tail), 1e-3, 0, 40);
        return p < 0.5 ? -magnitude : magnitude;
    }

    /** What is exceeded with probability {@code tail}, at most 0.5, to 0.00045 (Abramowitz and Stegun 26.2.23). */
    private static double roughNormal(double tail) {
        double t = Math.sqrt(-2 * Math.log(tail));
        return t
                - (2.515517 + t * (0.802853 + t * 0.010328))
                        / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
    }

    /** On this scale a quantile near 0 and its distance from 1 are both kept in full. */
    private static double logitOfBeta(double p, double a, double b) {
        double guess = Math.log(a) - Math.log(b);
        double step = Math.sqrt(1 / a + 1 / b);
        return Roots.ofIncreasing(
                s -> excess(s, p, a, b), guess, step, LOG_OF_SMALLEST, -LOG_OF_SMALLEST);
    }

    private static double excess(double s, double p, double a, double b) {
        return s < 0
                ? Probabilities.beta(Math.exp(s) / (1 + Math.exp(s)), a, b) - p
                : (1 - p) - Probabilities.beta(Math.exp(-s) / (1 + Math.exp(-s)), b, a);
    }
}
