package org.evenwash.analysis.infestation;

import org.evenwash.analysis.Require;

/**
 * How many bees were in the jar and how well that is known.
 *
 * @param number above 0; decimals when estimated
 * @param logSd standard deviation of the logarithm of the true number; 0 when the bees were counted
 */
public record BeesInSample(double number, double logSd) {

    public BeesInSample {
        Require.positive("bees", number);
        if (!(logSd >= 0) || Double.isInfinite(logSd)) {
            throw new IllegalArgumentException(
                    "the uncertainty of the bees must be finite and not negative, not " + logSd);
        }
    }

    /** Counted one by one. */
    public static BeesInSample counted(double number) {
        return new BeesInSample(number, 0);
    }
}
