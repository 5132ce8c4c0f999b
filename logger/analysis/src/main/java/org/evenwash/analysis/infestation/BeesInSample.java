package org.evenwash.analysis.infestation;

import java.util.ArrayList;
import java.util.List;
import org.evenwash.analysis.Require;

/**
 * How many bees were in the jar and how well that is known.
 *
 * @param number above 0; decimals when estimated
 * @param logSd standard deviation of the logarithm of the true number; 0 when the bees were counted
 * @param remarks cautions about the estimate, which every figure that rests on it repeats
 */
public record BeesInSample(double number, double logSd, List<String> remarks) {

    public BeesInSample {
        Require.positive("bees", number);
        if (!(logSd >= 0) || Double.isInfinite(logSd)) {
            throw new IllegalArgumentException(
                    "the uncertainty of the bees must be finite and not negative, not " + logSd);
        }
        remarks = List.copyOf(remarks);
    }

    public BeesInSample(double number, double logSd) {
        this(number, logSd, List.of());
    }

    /** The same bees with one more caution. */
    BeesInSample with(String remark) {
        var all = new ArrayList<>(remarks);
        all.add(remark);
        return new BeesInSample(number, logSd, all);
    }

    /** Counted one by one. */
    public static BeesInSample counted(double number) {
        return new BeesInSample(number, 0);
    }
}
