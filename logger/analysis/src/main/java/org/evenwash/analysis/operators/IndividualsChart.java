package org.evenwash.analysis.operators;

import java.util.Optional;
import java.util.stream.DoubleStream;

/**
 * Individuals and moving-range chart: limits from the differences of neighbours, whatever the law of
 * the values.
 *
 * @param mean of the values
 * @param meanRange mean absolute difference of neighbours
 * @param sigma meanRange/d₂
 * @param lower mean − 3 sigma
 * @param upper mean + 3 sigma
 * @param rangeUpper D₄·meanRange, the limit of a single moving range
 */
public record IndividualsChart(
        double mean,
        double meanRange,
        double sigma,
        double lower,
        double upper,
        double rangeUpper) {

    /** Mean range of two normal values in units of their SD, 2/√π. */
    static final double D2 = 2 / Math.sqrt(Math.PI);

    /** Three-sigma limit of that range in units of its mean, 1 + 3√(2−4/π)/d₂. */
    static final double D4 = 1 + 3 * Math.sqrt(2 - 4 / Math.PI) / D2;

    /** The chart; nothing for fewer than two values. */
    public static Optional<IndividualsChart> of(double[] values) {
        if (values.length < 2) {
            return Optional.empty();
        }
        double mean = DoubleStream.of(values).sum() / values.length;
        double ranges = 0;
        for (int i = 1; i < values.length; i++) {
            ranges += Math.abs(values[i] - values[i - 1]);
        }
        double meanRange = ranges / (values.length - 1);
        double sigma = meanRange / D2;
        return Optional.of(
                new IndividualsChart(
                        mean,
                        meanRange,
                        sigma,
                        mean - 3 * sigma,
                        mean + 3 * sigma,
                        D4 * meanRange));
    }
}
