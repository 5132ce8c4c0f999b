package org.evenwash.logger.store;

/** How the number of bees is known. */
public enum BeeMeasure {
    COUNTED,
    /** Estimated from a fill line on the jar. */
    FILL_LINE,
    /** Estimated from the mass of the sample. */
    MASS,
    NOT_STATED;

    /** True when the number is an estimate rather than a count. */
    public boolean estimated() {
        return this != COUNTED;
    }
}
