package org.evenwash.logger.cli;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Pattern;

/** Numbers as people write them, read strictly: nothing that could mean two numbers is taken. */
final class Decimals {
    private static final Pattern NUMBER =
            Pattern.compile("[+-]?(\\d+\\.?\\d*|\\.\\d+)([eE][+-]?\\d+)?");
    private static final Pattern COMMA = Pattern.compile("[+-]?\\d*,\\d+");
    private static final int MOST_DIGITS = 40;

    private Decimals() {}

    /** The number; empty for anything else, "NaN" and "1,5" included. */
    static OptionalDouble read(String text) {
        if (text.length() > MOST_DIGITS || !NUMBER.matcher(text).matches()) {
            return OptionalDouble.empty();
        }
        double value = Double.parseDouble(text);
        return Double.isFinite(value) ? OptionalDouble.of(value) : OptionalDouble.empty();
    }

    /** What to do about a text that is no number, where that is plain. */
    static Optional<String> advice(String text) {
        if (COMMA.matcher(text).matches()) {
            return Optional.of("write a decimal point, not a comma: " + text.replace(',', '.'));
        }
        return Optional.empty();
    }

    /** Without a trailing ".0", without an exponent. */
    static String plain(double value) {
        BigDecimal rounded = new BigDecimal(value, new MathContext(12, RoundingMode.HALF_EVEN));
        return rounded.signum() == 0 ? "0" : rounded.stripTrailingZeros().toPlainString();
    }

    static String fixed(int decimals, double value) {
        return String.format(Locale.ROOT, "%." + decimals + "f", value);
    }

    /** A probability; a small one as "< 0.0001" rather than 0. */
    static String probability(double p) {
        return p < 0.0001 ? "< 0.0001" : fixed(4, p);
    }

    static String percent(double share) {
        return fixed(1, 100 * share) + " %";
    }
}
