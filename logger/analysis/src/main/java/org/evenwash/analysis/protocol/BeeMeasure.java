package org.evenwash.analysis.protocol;

/**
 * Volumes of the usual scoops, and the published rules from volume to bees. The rules differ by a
 * quarter: the same scoop is 300 bees by one and 355 by another, so a scoop needs calibrating with
 * the bees it is used on.
 */
public final class BeeMeasure {
    /** Half a US customary cup: 1/32 of a gallon of 231 cubic inches of 2.54³ cm³. */
    public static final double HALF_US_CUP_ML = 231 * 2.54 * 2.54 * 2.54 / 32;

    /** Half a cup as on US food labels (240 mL, 21 CFR 101.9). */
    public static final double HALF_US_LABEL_CUP_ML = 120;

    /** Half a metric cup (250 mL), as in Australia and New Zealand. */
    public static final double HALF_METRIC_CUP_ML = 125;

    /** Half an imperial cup, a quarter of a pint of 20 imperial fluid ounces. */
    public static final double HALF_IMPERIAL_CUP_ML = 4546.09 / 32;

    /** 300 bees to the level of 100 mL of water: COLOSS BEEBOOK 2013 after Lee et al. 2010. */
    public static final double COLOSS_BEES_PER_ML = 3.0;

    /** "Half a cup is 300 bees" with the metric cup: the sparsest of the published rules. */
    public static final double HALF_METRIC_CUP_BEES_PER_ML = 300 / HALF_METRIC_CUP_ML;

    /** The same with the US cup. */
    public static final double HALF_US_CUP_BEES_PER_ML = 300 / HALF_US_CUP_ML;

    private BeeMeasure() {}

    /** From the sparsest to the densest published rule. */
    public record Bees(double fewest, double most) {}

    /** @param volume_mL more than 0 */
    public static Bees published(double volume_mL) {
        if (!(volume_mL > 0 && Double.isFinite(volume_mL))) {
            throw new IllegalArgumentException("a measure holds more than 0 mL, not " + volume_mL);
        }
        return new Bees(volume_mL * HALF_METRIC_CUP_BEES_PER_ML, volume_mL * COLOSS_BEES_PER_ML);
    }
}
