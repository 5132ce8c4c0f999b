package org.evenwash.analysis;

/** Refuses inputs that no sample can have, in words that name the input and its range. */
public final class Require {

    /** More mites or bees than any jar, or any apiary's washes together, can hold. */
    public static final int MOST_MITES = 1_000_000;

    /** See {@link #MOST_MITES}. */
    public static final double MOST_BEES = 1_000_000_000;

    private Require() {}

    /** A count of mites (or of infested bees) from 0 to {@link #MOST_MITES}. */
    public static int count(String name, int value) {
        if (value < 0 || value > MOST_MITES) {
            throw new IllegalArgumentException(
                    name + " must be from 0 to " + MOST_MITES + ", not " + value);
        }
        return value;
    }

    /** A number of bees, grams or the like: above 0, at most {@link #MOST_BEES}; decimals allowed. */
    public static double positive(String name, double value) {
        if (!(value > 0 && value <= MOST_BEES)) {
            throw new IllegalArgumentException(
                    name + " must be above 0 and at most 1000000000, not " + value);
        }
        return value;
    }

    /** Two columns that belong together. */
    public static void sameLength(String first, int firstLength, String second, int secondLength) {
        if (firstLength != secondLength) {
            throw new IllegalArgumentException(
                    firstLength
                            + " values of "
                            + first
                            + " but "
                            + secondLength
                            + " of "
                            + second
                            + ": each row needs both");
        }
    }
}
