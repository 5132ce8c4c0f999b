package org.evenwash.analysis.recovery;

import org.evenwash.analysis.Require;
import org.evenwash.analysis.numeric.Limits;

/**
 * Two washes of equal effort (Seber and Le Cren 1967, J. Anim. Ecol. 36:631–643; Seber 2002, eq. 7.30
 * and 7.31). Figures are NaN when the second wash found no less than the first.
 *
 * @param defined whether the second wash found fewer
 * @param total mites estimated on the bees
 * @param seTotal its standard error
 * @param p share that one wash brings off
 * @param seP its standard error
 * @param exact 95 % limits of p from the exact limits of c1 / (c1 + c2); always given
 */
public record TwoPass(
        boolean defined, double total, double seTotal, double p, double seP, Limits exact) {

    /** From the mites of the first and the second wash. */
    public static TwoPass of(int c1, int c2) {
        Require.count("first-wash mites", c1);
        Require.count("second-wash mites", c2);
        Limits exact = exact(c1, (double) c1 + c2);
        if (c2 >= c1) {
            return new TwoPass(false, Double.NaN, Double.NaN, Double.NaN, Double.NaN, exact);
        }
        double first = c1;
        double fewer = first - c2;
        double sum = first + c2;
        return new TwoPass(
                true,
                first * first / fewer,
                first * c2 * Math.sqrt(sum) / (fewer * fewer),
                fewer / first,
                Math.sqrt(c2 * sum / first) / first,
                exact);
    }

    /** Limits of p where {@code c1} of {@code all} mites (fractions allowed) came off at first. */
    static Limits exact(double c1, double all) {
        return Limits.ofProportion(c1, all).map(TwoPass::recovery);
    }

    /** One wash's recovery from the share π that the first of two equal washes found: 2 − 1/π. */
    static double recovery(double share) {
        return share == 0 ? 0 : Math.max(0, 2 - 1 / share);
    }
}
