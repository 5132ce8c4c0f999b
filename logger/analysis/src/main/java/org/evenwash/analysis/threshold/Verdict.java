package org.evenwash.analysis.threshold;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenwash.analysis.Result;

/**
 * A wash against a chosen threshold: the whole 95 % interval above it, below it, or neither. There
 * is no verdict without a threshold, so the makers take and give an {@link Optional}.
 */
public record Verdict(Call call, Threshold threshold, String words) {

    /** Each with its shape, so that it never hangs on a colour. */
    public enum Call {
        ABOVE("above", '▲'),
        BELOW("below", '●'),
        UNDECIDED("undecided", '◐'),
        NOT_ASSESSED("not assessed", '○');

        private final String word;
        private final char shape;

        Call(String word, char shape) {
            this.word = word;
            this.shape = shape;
        }

        public String word() {
            return word;
        }

        public char shape() {
            return shape;
        }
    }

    /** @param per100Bees the uncorrected wash count: like with like */
    public static Optional<Verdict> of(Optional<Threshold> chosen, Result per100Bees) {
        return chosen.map(threshold -> against(threshold, per100Bees));
    }

    private static Verdict against(Threshold threshold, Result result) {
        OptionalDouble limit = threshold.per100Bees();
        if (limit.isEmpty()) {
            return new Verdict(
                    Call.NOT_ASSESSED,
                    threshold,
                    "The threshold is in "
                            + threshold.unit().words()
                            + "; a wash cannot be compared with it.");
        }
        if (result instanceof Result.NotEnoughData none) {
            return new Verdict(Call.NOT_ASSESSED, threshold, "Not enough data: " + none.needs());
        }
        Call call = call(result, limit.getAsDouble());
        return new Verdict(call, threshold, words(call, threshold));
    }

    private static Call call(Result result, double limit) {
        double lower = 0;
        double upper = Double.POSITIVE_INFINITY;
        if (result instanceof Result.Estimate estimate) {
            lower = estimate.lower();
            upper = estimate.upper();
        } else if (result instanceof Result.Bound bound) {
            lower = bound.side() == Result.Side.AT_LEAST ? bound.limit() : lower;
            upper = bound.side() == Result.Side.AT_MOST ? bound.limit() : upper;
        }
        if (lower > limit) {
            return Call.ABOVE;
        }
        return upper < limit ? Call.BELOW : Call.UNDECIDED;
    }

    private static String words(Call call, Threshold threshold) {
        String limit =
                new BigDecimal(threshold.value())
                                .setScale(2, RoundingMode.HALF_EVEN)
                                .stripTrailingZeros()
                                .toPlainString()
                        + " "
                        + threshold.unit().words();
        return switch (call) {
            case ABOVE -> "Above " + limit + ": the whole interval lies over it.";
            case BELOW -> "Below " + limit + ": the whole interval lies under it.";
            case UNDECIDED -> "Undecided: the interval reaches across " + limit + ".";
            case NOT_ASSESSED -> throw new IllegalStateException("worded by the caller");
        };
    }
}
