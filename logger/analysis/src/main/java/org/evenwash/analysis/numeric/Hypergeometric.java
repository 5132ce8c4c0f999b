package org.evenwash.analysis.numeric;

import org.hipparchus.distribution.discrete.HypergeometricDistribution;

/**
 * The number of marked items in a sample drawn without replacement.
 *
 * @param population all items, 1 or more
 * @param marked marked ones among them, 0 to {@code population}
 * @param sample items drawn, 0 to {@code population}
 */
public record Hypergeometric(int population, int marked, int sample) {

    public Hypergeometric {
        if (population < 1
                || marked < 0
                || marked > population
                || sample < 0
                || sample > population) {
            throw new IllegalArgumentException(
                    sample + " drawn and " + marked + " marked do not fit into " + population);
        }
    }

    /** P(X ≤ j). */
    public double atMost(int j) {
        if (j < smallest()) {
            return 0;
        }
        if (j >= largest()) {
            return 1;
        }
        return j < mean() ? tailDown(j) : 1 - tailUp(j + 1);
    }

    /** P(X ≥ j). */
    public double atLeast(int j) {
        if (j <= smallest()) {
            return 1;
        }
        if (j > largest()) {
            return 0;
        }
        return j > mean() ? tailUp(j) : 1 - tailDown(j - 1);
    }

    private int smallest() {
        return Math.max(0, sample + marked - population);
    }

    private int largest() {
        return Math.min(sample, marked);
    }

    private double mean() {
        return (double) sample * marked / population;
    }

    private double mass(int j) {
        return new HypergeometricDistribution(population, marked, sample).probability(j);
    }

    /** Below the mean each term is smaller than the one before, so the sum may stop early. */
    private double tailDown(int j) {
        double term = 1;
        double sum = 1;
        for (int i = j; i > smallest() && term > 1e-18 * sum; i--) {
            double unmarkedLeft = (double) population - marked - sample + i;
            term *= i * unmarkedLeft / ((marked - i + 1.0) * (sample - i + 1.0));
            sum += term;
        }
        return mass(j) * sum;
    }

    private double tailUp(int j) {
        double term = 1;
        double sum = 1;
        for (int i = j; i < largest() && term > 1e-18 * sum; i++) {
            double unmarkedLeft = (double) population - marked - sample + i + 1;
            term *= ((double) marked - i) * (sample - i) / ((i + 1) * unmarkedLeft);
            sum += term;
        }
        return mass(j) * sum;
    }
}
