package org.evenwash.analysis.operators;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenwash.analysis.numeric.Poisson;

/**
 * A u chart: mites from samples of unequal size, as mites per 100 bees.
 *
 * @param mean mites per 100 bees over all samples
 * @param points limits at each sample
 * @param phi dispersion against Poisson, not raised to 1; empty for one sample or none but zeros
 */
public record RateChart(double mean, List<Point> points, OptionalDouble phi) {

    /**
     * One sample.
     *
     * @param rate mites per 100 bees
     * @param lower3 three-sigma limit, mites per 100 bees, not below 0
     * @param upper3 likewise
     * @param exactLower fewer mites than this are a signal
     * @param exactUpper more mites than this are a signal
     */
    public record Point(
            double mites,
            double bees,
            double rate,
            double lower3,
            double upper3,
            long exactLower,
            long exactUpper) {

        /** Whether the count lies outside the exact limits. */
        public boolean signals() {
            return mites < exactLower || mites > exactUpper;
        }
    }

    public RateChart {
        points = List.copyOf(points);
    }

    /**
     * The chart; nothing without samples.
     *
     * @param bees above 0 in each sample
     */
    public static Optional<RateChart> of(double[] mites, double[] bees) {
        if (mites.length != bees.length) {
            throw new IllegalArgumentException(
                    mites.length + " mite counts but " + bees.length + " bee counts");
        }
        if (mites.length == 0) {
            return Optional.empty();
        }
        double miteSum = 0;
        double beeSum = 0;
        for (int i = 0; i < mites.length; i++) {
            if (!(bees[i] > 0)) {
                throw new IllegalArgumentException(
                        "sample " + (i + 1) + " has " + bees[i] + " bees: above 0 expected");
            }
            miteSum += mites[i];
            beeSum += bees[i];
        }
        double u = miteSum / beeSum;
        List<Point> points = new ArrayList<>();
        double squares = 0;
        for (int i = 0; i < mites.length; i++) {
            double expected = u * bees[i];
            Poisson poisson = new Poisson(expected);
            double sigma = 3 * Math.sqrt(u / bees[i]);
            points.add(
                    new Point(
                            mites[i],
                            bees[i],
                            100 * mites[i] / bees[i],
                            100 * Math.max(0, u - sigma),
                            100 * (u + sigma),
                            CountChart.quantile(poisson, CountChart.TAIL),
                            CountChart.quantile(poisson, 1 - CountChart.TAIL)));
            squares += u > 0 ? (mites[i] - expected) * (mites[i] - expected) / expected : 0;
        }
        OptionalDouble phi =
                mites.length > 1 && u > 0
                        ? OptionalDouble.of(squares / (mites.length - 1))
                        : OptionalDouble.empty();
        return Optional.of(new RateChart(100 * u, points, phi));
    }
}
