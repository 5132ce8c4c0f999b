package org.evenwash.analysis.infestation;

import org.evenwash.analysis.Require;
import org.evenwash.analysis.numeric.Level;
import org.evenwash.analysis.numeric.Limits;

/**
 * The share of bees that carry at least one mite.
 *
 * @param value share from 0 to 1
 * @param exact limits by Clopper and Pearson (1934), for claims and thresholds
 * @param wilson limits by Wilson (1927) without continuity correction, for display
 */
public record Proportion(double value, Limits exact, Limits wilson) {

    /** From {@code infested} of {@code bees}. */
    public static Proportion of(int infested, int bees) {
        Require.count("infested bees", infested);
        Require.positive("bees", bees);
        if (infested > bees) {
            throw new IllegalArgumentException(
                    infested + " infested bees of " + bees + ": mites are not infested bees");
        }
        double share = (double) infested / bees;
        return new Proportion(share, Limits.ofProportion(infested, bees), wilson(infested, bees));
    }

    private static Limits wilson(double x, double n) {
        double zz = Level.Z * Level.Z;
        double half = Level.Z * Math.sqrt(x * (n - x) / n + zz / 4);
        double lower = x == 0 ? 0 : (x + zz / 2 - half) / (n + zz);
        double upper = x == n ? 1 : (x + zz / 2 + half) / (n + zz);
        return new Limits(Math.max(0, lower), Math.min(1, upper));
    }
}
