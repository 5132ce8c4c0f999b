package org.evenwash.analysis;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.Result.Side;

/**
 * Results in words and digits, the same on the command line, on pages and in reports. Values have two
 * decimals (colonies, bees and seconds none); limits are rounded outward, so that printing never makes a result look
 * surer than it is.
 */
public final class ResultText {

    private ResultText() {}

    /** One line: "0.67 mites per 100 bees (95 %: 0.08–2.41)", "0, up to 1.23 mites per 100 bees". */
    public static String of(Result result, Quantity quantity) {
        if (result instanceof Estimate estimate) {
            String value = value(estimate.value(), quantity) + suffix(quantity);
            return value + " (" + interval(estimate, quantity) + ")";
        }
        if (result instanceof Bound bound) {
            return bound(bound, quantity) + suffix(quantity);
        }
        return "not enough data: needs " + ((NotEnoughData) result).needs();
    }

    /** "95 %: 0.08–2.41", with an open end in words. */
    public static String interval(Estimate estimate, Quantity quantity) {
        boolean below = Double.isFinite(estimate.lower());
        boolean above = Double.isFinite(estimate.upper());
        if (below && above) {
            // A dash after a minus sign would be misread.
            String dash = estimate.lower() < 0 ? " to " : "–";
            return "95 %: "
                    + lower(estimate.lower(), quantity)
                    + dash
                    + upper(estimate.upper(), quantity);
        }
        if (below) {
            return "95 %: from " + lower(estimate.lower(), quantity) + ", no upper limit";
        }
        if (above) {
            return "95 %: up to " + upper(estimate.upper(), quantity) + ", no lower limit";
        }
        return "interval not determined";
    }

    /** A value, rounded to nearest; one that two decimals would turn into 0 keeps its first digit. */
    public static String value(double value, Quantity quantity) {
        String text = rounded(value, quantity, RoundingMode.HALF_UP);
        boolean vanished = value != 0 && Double.parseDouble(text) == 0;
        return vanished ? new BigDecimal(value).round(new MathContext(1)).toPlainString() : text;
    }

    /** A lower limit, rounded down. */
    public static String lower(double limit, Quantity quantity) {
        return rounded(limit, quantity, RoundingMode.FLOOR);
    }

    /** An upper limit, rounded up. */
    public static String upper(double limit, Quantity quantity) {
        return rounded(limit, quantity, RoundingMode.CEILING);
    }

    private static String bound(Bound bound, Quantity quantity) {
        if (bound.side() == Side.AT_LEAST) {
            return "at least " + lower(bound.limit(), quantity);
        }
        boolean noneFound = quantity == Quantity.INFESTATION || quantity == Quantity.INFESTED_BEES;
        return (noneFound ? "0, up to " : "at most ") + upper(bound.limit(), quantity);
    }

    private static String suffix(Quantity quantity) {
        return quantity.unit.isEmpty() ? "" : " " + quantity.unit;
    }

    /**
     * Rounds the shortest decimal that stands for the number, not its binary value: 12.3 is 12.3 and
     * not a hair below. A quantity is kept within what it can be, so 100 % never becomes 100.01 %.
     */
    private static String rounded(double number, Quantity quantity, RoundingMode mode) {
        BigDecimal exact = BigDecimal.valueOf(withoutNoise(number));
        BigDecimal rounded = exact.setScale(quantity.decimals, mode);
        double clipped = Math.max(quantity.least, Math.min(quantity.most, rounded.doubleValue()));
        if (clipped != rounded.doubleValue()) {
            rounded = BigDecimal.valueOf(clipped).setScale(quantity.decimals, mode);
        }
        return rounded.signum() == 0 ? rounded.abs().toPlainString() : rounded.toPlainString();
    }

    /** Drops the last digits, which arithmetic makes: 0.07000000000000001 is 0.07. */
    private static double withoutNoise(double number) {
        return new BigDecimal(number).round(new MathContext(13)).doubleValue();
    }
}
