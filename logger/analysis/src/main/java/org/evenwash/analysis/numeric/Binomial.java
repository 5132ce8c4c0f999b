package org.evenwash.analysis.numeric;

import org.hipparchus.distribution.discrete.BinomialDistribution;

/** The binomial law of {@code size} trials with success probability {@code p} from 0 to 1. */
public record Binomial(int size, double p) {

    public Binomial {
        if (size < 0 || !(p >= 0 && p <= 1)) {
            throw new IllegalArgumentException("no binomial law has size " + size + ", p " + p);
        }
    }

    /** P(X = j). */
    public double mass(int j) {
        return new BinomialDistribution(size, p).probability(j);
    }

    /** P(X ≤ j). */
    public double atMost(long j) {
        if (j < 0) {
            return 0;
        }
        if (j >= size) {
            return 1;
        }
        return Probabilities.beta(1 - p, (double) size - j, j + 1.0);
    }

    /** The smallest j with P(X ≤ j) ≥ u, for u strictly between 0 and 1. */
    public int quantile(double u) {
        double sd = Math.sqrt(size * p * (1 - p));
        long guess = (long) (size * p + Quantiles.normal(u) * sd);
        long start = Math.max(0, Math.min(guess, size));
        return (int) Steps.smallest(j -> atMost(j) >= u, start, 1 + (long) (sd / 4), 0);
    }
}
