package org.evenwash.analysis.infestation;

import org.evenwash.analysis.Require;
import org.evenwash.analysis.numeric.Limits;

/**
 * Mites per 100 bees with exact Poisson limits (Garwood 1936, Biometrika 28:437–442). Mites are
 * counted, not infested bees, and a bee can carry several: hence Poisson and not a proportion.
 *
 * @param value mites per 100 bees
 * @param lower 95 % lower limit; 0 when no mite was found
 * @param upper 95 % upper limit
 */
public record PoissonRate(double value, double lower, double upper) {

    /** From {@code mites} on {@code bees}; the bees may have decimals when they were weighed. */
    public static PoissonRate of(int mites, double bees) {
        Require.count("mites", mites);
        double scale = 100 / Require.positive("bees", bees);
        Limits count = Limits.ofCount(mites);
        return new PoissonRate(100 * mites / bees, scale * count.lower(), scale * count.upper());
    }
}
