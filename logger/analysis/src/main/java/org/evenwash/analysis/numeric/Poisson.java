package org.evenwash.analysis.numeric;

import org.hipparchus.distribution.discrete.PoissonDistribution;

/** The Poisson law with a mean above or at zero. */
public record Poisson(double mean) {

    public Poisson {
        if (!(mean >= 0) || Double.isInfinite(mean)) {
            throw new IllegalArgumentException("a mean must be finite and not negative: " + mean);
        }
    }

    /** P(X = j). */
    public double mass(long j) {
        if (j < 0 || mean == 0) {
            return j == 0 ? 1 : 0;
        }
        return new PoissonDistribution(mean).probability(Math.toIntExact(j));
    }

    /** P(X ≤ j). */
    public double atMost(long j) {
        if (j < 0) {
            return 0;
        }
        return Probabilities.gammaAbove(mean, j + 1.0);
    }

    /** P(X ≥ j). */
    public double atLeast(long j) {
        return j <= 0 ? 1 : Probabilities.gamma(mean, (double) j);
    }

    /** The smallest j with P(X ≤ j) ≥ p, for p strictly between 0 and 1. */
    public long quantile(double p) {
        double sd = Math.sqrt(mean);
        double guess = mean + Quantiles.normal(p) * sd;
        return Steps.smallest(
                j -> atMost(j) >= p, Math.max(0, (long) guess), 1 + (long) (sd / 4), 0);
    }
}
