package org.evenwash.analysis.operators;

import java.util.Objects;

/**
 * One wash with its second wash, who made it and under which conditions.
 *
 * @param operator any label that stands for one person or one bench crew
 * @param conditions recipe, bench and day; washes are only ever compared within equal conditions
 * @param firstWashMites mites caught by the first wash, 0 or more
 * @param secondWashMites mites caught by the second wash, 0 or more
 */
public record OperatorWash(
        String operator, Conditions conditions, int firstWashMites, int secondWashMites) {

    /** What must be equal before two washes may be exchanged between operators. */
    public record Conditions(String recipe, String bench, String day) {
        /** Conditions that were the same for all washes, or not recorded. */
        public static final Conditions SAME = new Conditions("", "", "");

        public Conditions {
            Objects.requireNonNull(recipe, "recipe");
            Objects.requireNonNull(bench, "bench");
            Objects.requireNonNull(day, "day");
        }
    }

    public OperatorWash {
        Objects.requireNonNull(operator, "operator");
        Objects.requireNonNull(conditions, "conditions");
        if (firstWashMites < 0 || secondWashMites < 0) {
            throw new IllegalArgumentException(
                    "mites cannot be negative: first wash "
                            + firstWashMites
                            + ", second wash "
                            + secondWashMites);
        }
    }

    /** A wash made under the same conditions as all others. */
    public OperatorWash(String operator, int firstWashMites, int secondWashMites) {
        this(operator, Conditions.SAME, firstWashMites, secondWashMites);
    }

    /** All mites that were on the bees, as far as both washes show. */
    public double mites() {
        return (double) firstWashMites + secondWashMites;
    }
}
