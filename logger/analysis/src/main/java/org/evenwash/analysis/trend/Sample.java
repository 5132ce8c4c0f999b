package org.evenwash.analysis.trend;

/**
 * One date of a colony's series.
 *
 * @param week time in weeks from any fixed start, −100,000 to 100,000
 * @param mites washed off, 0 or more
 * @param bees in the sample, 1 or more
 */
public record Sample(double week, int mites, int bees) {

    private static final double FURTHEST_WEEK = 1e5;

    public Sample {
        if (!(Math.abs(week) <= FURTHEST_WEEK)) {
            throw new IllegalArgumentException(
                    "week " + week + ": expected within ±" + FURTHEST_WEEK + " of the start");
        }
        if (mites < 0 || bees < 1) {
            throw new IllegalArgumentException(
                    mites + " mites on " + bees + " bees: expected 0 or more on 1 or more");
        }
    }

    /** Mites per 100 bees. */
    public double infestation() {
        return 100.0 * mites / bees;
    }
}
