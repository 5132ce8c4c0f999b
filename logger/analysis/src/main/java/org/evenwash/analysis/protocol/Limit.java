package org.evenwash.analysis.protocol;

import java.util.List;
import java.util.OptionalDouble;

/** What a protocol asks at one point. */
public sealed interface Limit {
    /** The limit in words, with its unit: "at least 75 %vol". */
    String words(Point point);

    Point.Kind kind();

    /** A number from {@code least} to {@code most}, both included; at least one is given. */
    record Range(OptionalDouble least, OptionalDouble most) implements Limit {
        public Range {
            if (least.isEmpty() && most.isEmpty()) {
                throw new IllegalArgumentException("a range needs a least or a most");
            }
            if (least.isPresent()
                    && most.isPresent()
                    && !(least.getAsDouble() <= most.getAsDouble())) {
                throw new IllegalArgumentException(
                        "least " + least.getAsDouble() + " lies above most " + most.getAsDouble());
            }
        }

        public static Range atLeast(double least) {
            return new Range(OptionalDouble.of(least), OptionalDouble.empty());
        }

        public static Range atMost(double most) {
            return new Range(OptionalDouble.empty(), OptionalDouble.of(most));
        }

        public static Range between(double least, double most) {
            return new Range(OptionalDouble.of(least), OptionalDouble.of(most));
        }

        @Override
        public String words(Point point) {
            if (most.isEmpty()) {
                return "at least " + point.counted(least.getAsDouble());
            }
            if (least.isEmpty()) {
                return "at most " + point.counted(most.getAsDouble());
            }
            return Numbers.plain(least.getAsDouble()) + " to " + point.counted(most.getAsDouble());
        }

        @Override
        public Point.Kind kind() {
            return Point.Kind.NUMBER;
        }

        boolean holdsAll(double lower, double upper) {
            return lower >= least.orElse(Double.NEGATIVE_INFINITY)
                    && upper <= most.orElse(Double.POSITIVE_INFINITY);
        }

        boolean holdsNone(double lower, double upper) {
            return upper < least.orElse(Double.NEGATIVE_INFINITY)
                    || lower > most.orElse(Double.POSITIVE_INFINITY);
        }
    }

    /** It must have been done. */
    record Required() implements Limit {
        @Override
        public String words(Point point) {
            return "yes";
        }

        @Override
        public Point.Kind kind() {
            return Point.Kind.YES_NO;
        }
    }

    /** One of some words of the point's vocabulary. */
    record OneOf(List<String> words) implements Limit {
        public OneOf {
            words = List.copyOf(words);
            if (words.isEmpty()) {
                throw new IllegalArgumentException("a choice needs at least one word");
            }
        }

        @Override
        public String words(Point point) {
            return String.join(" or ", words);
        }

        @Override
        public Point.Kind kind() {
            return Point.Kind.CHOICE;
        }
    }
}
