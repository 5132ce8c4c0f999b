package org.evenwash.analysis.apiary;

import org.evenwash.analysis.Require;
import org.evenwash.analysis.numeric.Poisson;
import org.evenwash.analysis.numeric.Probabilities;

/**
 * How often one wash reads below a threshold, given the truth.
 *
 * @param cutCount mites from which the reading is no longer below the threshold
 * @param probabilityBelow probability that fewer are found
 */
public record OperatingCharacteristic(int cutCount, double probabilityBelow) {

    /** Keeps a product such as 3 · 300 / 100 from being rounded up over its whole value. */
    private static final double ROUNDING = 1e-9;

    /**
     * A reading that is divided by the true recovery.
     *
     * @param rate true mites per 100 bees, 0 or above
     * @param bees washed, above 0
     * @param threshold mites per 100 bees, 0 or above
     * @param recovery of the wash, above 0, at most 1
     */
    public static OperatingCharacteristic corrected(
            double rate, double bees, double threshold, double recovery) {
        return of(rate, bees, threshold, recovery, recovery, 0);
    }

    /** A reading as washed, from a wash with the given recovery. */
    public static OperatingCharacteristic uncorrected(
            double rate, double bees, double threshold, double recovery) {
        return of(rate, bees, threshold, recovery, 1, 0);
    }

    /**
     * A reading as washed, when the bees of one sample are not as infested as the colony's bees: places
     * in the hive differ. With a gamma law between samples the mites follow a negative binomial one.
     *
     * @param variation coefficient of variation between samples of one colony, above 0
     */
    public static OperatingCharacteristic ofPatchyColony(
            double rate, double bees, double threshold, double recovery, double variation) {
        if (!(variation > 0) || Double.isInfinite(variation)) {
            throw new IllegalArgumentException("variation must be above 0, not " + variation);
        }
        return of(rate, bees, threshold, recovery, 1, variation);
    }

    private static OperatingCharacteristic of(
            double rate,
            double bees,
            double threshold,
            double recovery,
            double assumed,
            double variation) {
        Require.positive("bees", bees);
        percentage("rate", rate);
        percentage("threshold", threshold);
        if (!(recovery > 0 && recovery <= 1)) {
            throw new IllegalArgumentException(
                    "recovery must be above 0 and at most 1, not " + recovery);
        }
        double cut = Math.ceil(threshold * bees * assumed / 100 - ROUNDING);
        int count = (int) Math.max(0, cut);
        double mites = rate * bees * recovery / 100;
        double below =
                variation == 0
                        ? new Poisson(mites).atMost(count - 1L)
                        : negativeBinomialBelow(count, mites, 1 / (variation * variation));
        return new OperatingCharacteristic(count, below);
    }

    private static double negativeBinomialBelow(int count, double mean, double size) {
        return count == 0 ? 0 : Probabilities.beta(size / (size + mean), size, count);
    }

    private static void percentage(String name, double value) {
        if (!(value >= 0 && value <= 1000)) {
            throw new IllegalArgumentException(
                    name + " must be from 0 to 1000 per 100 bees, not " + value);
        }
    }
}
