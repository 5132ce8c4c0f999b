package org.evenwash.analysis.vectors;

import java.util.Map;

/**
 * How one kind of reference vector is computed: its inputs to its fields.
 *
 * <p>A field is a number, a boolean, a string or null; NaN counts as null ("not defined") and an
 * infinite number as "Infinity" or "-Infinity". A p-value drawn by chance is a {@link MonteCarlo}.
 */
@FunctionalInterface
interface Kind {

    Map<String, Object> compute(Inputs inputs);

    /** A share found by random draws, compared within its own Monte-Carlo error. */
    record MonteCarlo(double share, int draws) {}
}
