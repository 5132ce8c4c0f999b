package org.evenwash.analysis.protocol;

import java.math.BigDecimal;
import java.math.RoundingMode;

/** Numbers in sentences. */
final class Numbers {
    private Numbers() {}

    /** At most two decimals, no trailing zeros, no exponent: 300, 47.4, 0.05. */
    static String plain(double value) {
        BigDecimal rounded = BigDecimal.valueOf(value).setScale(2, RoundingMode.HALF_EVEN);
        return rounded.signum() == 0 ? "0" : rounded.stripTrailingZeros().toPlainString();
    }
}
