package org.evenwash.demo;

import java.util.List;

/**
 * How the infestation of an invented colony went over the months before: steady growth, and what
 * changed it. The people know only what they washed.
 *
 * @param start mites per 100 bees {@value #WEEKS} weeks ago
 * @param growth a week, such as 0.08 for 8 %
 * @param washed weeks ago, earliest first
 * @param happenings in any order
 */
record Life(
        String colony,
        double start,
        double growth,
        List<Integer> washed,
        List<Happening> happenings) {
    static final int WEEKS = 20;

    /**
     * @param kind as the interface calls it
     * @param weeksAgo the first day
     * @param lasts weeks, 0 for what is done at once
     * @param left share of the mites per 100 bees that it leaves
     * @param with active substance of a treatment, name of a new colony, else a remark
     */
    record Happening(String kind, int weeksAgo, int lasts, double left, String with) {
        /** What is left of the mites so many weeks ago. */
        double leftAt(double week) {
            if (week >= weeksAgo) {
                return 1;
            }
            double done = lasts == 0 ? 1 : Math.min(1, (weeksAgo - week) / lasts);
            return Math.pow(left, done);
        }
    }

    static Happening treatment(String substance, int weeksAgo, int lasts, double left) {
        return new Happening("TREATMENT", weeksAgo, lasts, left, substance);
    }

    /** True mites per 100 bees so many weeks ago. */
    double per100Bees(double weeksAgo) {
        double level = start * Math.pow(1 + growth, WEEKS - weeksAgo);
        for (Happening happening : happenings) {
            level *= happening.leftAt(weeksAgo);
        }
        return level;
    }
}
