package org.evenwash.analysis.trend;

/**
 * One wash of a colony's series.
 *
 * @param week time in weeks from any fixed start, −100,000 to 100,000
 * @param mites washed off, 0 or more
 * @param bees in the sample, 1 or more
 */
public record Sample(double week, int mites, int bees) {

    private static final double FURTHEST_WEEK = 1e5;
    private static final double DAYS_A_WEEK = 7;

    /** A tenth of a second, in days: whole days in sevenths of a week come back a hair short. */
    private static final double ROUNDING = 1e-6;

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

    /** The date: whole days since the start of week 0, whatever the hour. */
    long day() {
        return (long) Math.floor(week * DAYS_A_WEEK + ROUNDING);
    }

    /** Mites per 100 bees. */
    public double infestation() {
        return 100.0 * mites / bees;
    }
}
