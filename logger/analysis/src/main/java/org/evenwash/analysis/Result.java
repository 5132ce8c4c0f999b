package org.evenwash.analysis;

import java.util.List;
import java.util.Objects;

/**
 * What an analysis can honestly say: an estimate with its interval, a bound on one side, or that
 * the data are not enough. A reader has to ask which one it is before getting at a number, so none
 * can be shown as another.
 */
public sealed interface Result {

    /** Cautions and facts a reader needs beside the number, in full sentences. */
    List<String> remarks();

    /**
     * A value with a 95 % interval.
     *
     * @param value finite
     * @param lower lower limit, at most {@code value}; {@code -∞} where the data set no lower limit
     * @param upper upper limit, at least {@code value}; {@code +∞} where the data set no upper limit
     */
    record Estimate(double value, double lower, double upper, List<String> remarks)
            implements Result {
        public Estimate {
            if (!Double.isFinite(value)) {
                throw new IllegalArgumentException("an estimate must be finite, not " + value);
            }
            if (!(lower <= value && value <= upper)) {
                throw new IllegalArgumentException(
                        value + " lies outside its own interval " + lower + " to " + upper);
            }
            remarks = List.copyOf(remarks);
        }

        public Estimate(double value, double lower, double upper) {
            this(value, lower, upper, List.of());
        }
    }

    /** Which side of the truth a {@link Bound} limits. */
    enum Side {
        AT_LEAST,
        AT_MOST
    }

    /** Only one side is known: "0 counted, at most 1.23", "at least 88 % recovered". */
    record Bound(Side side, double limit, List<String> remarks) implements Result {
        public Bound {
            Objects.requireNonNull(side, "side");
            if (!Double.isFinite(limit)) {
                throw new IllegalArgumentException("a bound must be finite, not " + limit);
            }
            remarks = List.copyOf(remarks);
        }

        public Bound(Side side, double limit) {
            this(side, limit, List.of());
        }
    }

    /**
     * No number can be defended.
     *
     * @param needs what would make it possible, as a person would say it: "at least 3 washes of
     *     each operator (now 2 and 5)"
     */
    record NotEnoughData(String needs, List<String> remarks) implements Result {
        public NotEnoughData {
            if (needs.isBlank()) {
                throw new IllegalArgumentException("say what is needed");
            }
            remarks = List.copyOf(remarks);
        }

        public NotEnoughData(String needs) {
            this(needs, List.of());
        }
    }
}
