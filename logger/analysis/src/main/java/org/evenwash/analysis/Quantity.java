package org.evenwash.analysis;

/** What a result is a number of: decides its unit and how a bound reads. */
public enum Quantity {
    /** Mites per 100 bees. */
    INFESTATION("mites per 100 bees", 2, 0, Double.MAX_VALUE),
    /** Share of bees with a mite, per cent. */
    INFESTED_BEES("% of the bees", 2, 0, 100),
    /** Share of mites brought off, per cent. */
    RECOVERY("%", 2, 0, 100),
    /** Bees in a sample. */
    BEES("bees", 0, 0, Double.MAX_VALUE),
    /** Colonies of an apiary. */
    COLONIES("colonies", 0, 0, Double.MAX_VALUE),
    /** Reduction by a treatment, per cent; negative where the infestation grew. */
    EFFICACY("%", 2, -Double.MAX_VALUE, 100),
    /** Agitation time, seconds. */
    AGITATION_TIME("s", 0, 0, Double.MAX_VALUE),
    /** Growth of the infestation, per cent a week. */
    GROWTH("% a week", 2, -100, Double.MAX_VALUE),
    /** Time to double, or to a threshold, weeks. */
    WEEKS("weeks", 2, -Double.MAX_VALUE, Double.MAX_VALUE),
    /** Speed displayed above the true one, per cent; negative where it reads too low. */
    SPEED_BIAS("%", 2, -100, Double.MAX_VALUE),
    /** A share from 0 to 1, or another number without a unit. */
    PLAIN("", 2, -Double.MAX_VALUE, Double.MAX_VALUE);

    final String unit;
    final int decimals;
    final double least;
    final double most;

    Quantity(String unit, int decimals, double least, double most) {
        this.unit = unit;
        this.decimals = decimals;
        this.least = least;
        this.most = most;
    }

    /** The unit as printed after a number; empty for a plain number. */
    public String unit() {
        return unit;
    }
}
