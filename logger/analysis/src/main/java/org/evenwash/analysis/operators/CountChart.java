package org.evenwash.analysis.operators;

import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import org.evenwash.analysis.numeric.Poisson;

/**
 * A c chart: counts from equal samples.
 *
 * @param mean count
 * @param lower3 mean − 3√mean, not below 0
 * @param upper3 mean + 3√mean
 * @param exactLower a smaller count is a signal (Poisson .00135 quantile)
 * @param exactUpper a larger count is a signal (Poisson .99865 quantile)
 * @param phi dispersion against Poisson, not raised to 1; empty for one count or none but zeros
 */
public record CountChart(
        double mean,
        double lower3,
        double upper3,
        long exactLower,
        long exactUpper,
        OptionalDouble phi) {

    /** Tail left outside each three-sigma limit of a normal law. */
    static final double TAIL = 0.00135;

    /** The chart; nothing without counts. */
    public static Optional<CountChart> of(double[] counts) {
        if (counts.length == 0) {
            return Optional.empty();
        }
        double mean = DoubleStream.of(counts).sum() / counts.length;
        double squares = DoubleStream.of(counts).map(x -> (x - mean) * (x - mean)).sum();
        Poisson poisson = new Poisson(mean);
        return Optional.of(
                new CountChart(
                        mean,
                        Math.max(0, mean - 3 * Math.sqrt(mean)),
                        mean + 3 * Math.sqrt(mean),
                        quantile(poisson, TAIL),
                        quantile(poisson, 1 - TAIL),
                        counts.length > 1 && mean > 0
                                ? OptionalDouble.of(squares / mean / (counts.length - 1))
                                : OptionalDouble.empty()));
    }

    static long quantile(Poisson poisson, double u) {
        return poisson.mean() == 0 ? 0 : poisson.quantile(u);
    }
}
