package org.evenwash.analysis.numeric;

import java.util.function.DoubleUnaryOperator;

/** A pair of limits, either of which may be infinite or, where a formula does not define it, NaN. */
public record Limits(double lower, double upper) {

    /** Both limits changed by one increasing function. */
    public Limits map(DoubleUnaryOperator increasing) {
        return new Limits(increasing.applyAsDouble(lower), increasing.applyAsDouble(upper));
    }

    /**
     * Exact 95 % limits of a proportion (Clopper and Pearson 1934) when x of n had the property; both
     * may be fractions, as an effective size is.
     */
    public static Limits ofProportion(double x, double n) {
        double lower = x <= 0 ? 0 : Quantiles.beta(Level.TAIL, x, n - x + 1);
        double upper = x >= n ? 1 : Quantiles.beta(1 - Level.TAIL, x + 1, n - x);
        return new Limits(lower, upper);
    }

    /** Exact 95 % limits of a Poisson mean when {@code count} were counted (Garwood 1936). */
    public static Limits ofCount(double count) {
        double lower = count <= 0 ? 0 : Quantiles.gamma(Level.TAIL, count);
        return new Limits(lower, Quantiles.gamma(1 - Level.TAIL, count + 1));
    }
}
