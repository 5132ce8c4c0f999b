package org.evenwash.analysis.protocol;

/**
 * One thing known of a wash, and how it is known ("counted", "cycle record", "by hand").
 */
public sealed interface Fact {
    String how();

    /**
     * A number, with the range in which it lies if it is not known exactly.
     *
     * @param lower at most {@code value}
     * @param upper at least {@code value}
     */
    record Quantity(double value, double lower, double upper, String how) implements Fact {
        public Quantity {
            if (!(Double.isFinite(lower)
                    && Double.isFinite(upper)
                    && lower <= value
                    && value <= upper)) {
                throw new IllegalArgumentException(
                        value + " does not lie between " + lower + " and " + upper);
            }
        }

        static Quantity exactly(double value, String how) {
            return new Quantity(value, value, value, how);
        }
    }

    /**
     * A count that may have been higher: what was recorded says nothing of what was not.
     *
     * @param least the number recorded
     */
    record NoFewer(double least, String how) implements Fact {}

    /** Done or not done. */
    record Answer(boolean yes, String how) implements Fact {}

    /** A word of the point's vocabulary. */
    record Choice(String word, String how) implements Fact {}

    /** The point makes no sense for this wash: the strength of soapy water. */
    record DoesNotApply(String how) implements Fact {}
}
