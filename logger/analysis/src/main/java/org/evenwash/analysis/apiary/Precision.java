package org.evenwash.analysis.apiary;

import java.util.OptionalLong;
import org.evenwash.analysis.numeric.Level;

/** How many bees give a wanted precision. What counts is the mites: about (z/δ)², whatever the bees. */
public final class Precision {

    private Precision() {}

    /**
     * Bees for a 95 % interval of about ±{@code halfWidth} relative to the estimate; empty at a rate of
     * 0, or where more than 1e15 would be needed.
     *
     * @param rate expected mites per 100 bees, 0 or above
     * @param recovery of the wash, above 0, at most 1
     * @param halfWidth relative, above 0: 0.3 for ±30 %
     */
    public static OptionalLong bees(double rate, double recovery, double halfWidth) {
        if (!(rate >= 0) || !(recovery > 0 && recovery <= 1) || !(halfWidth > 0)) {
            throw new IllegalArgumentException(
                    "no plan for rate " + rate + ", recovery " + recovery + ", ±" + halfWidth);
        }
        double mites = (Level.Z / halfWidth) * (Level.Z / halfWidth);
        double bees = Math.ceil(mites * 100 / (rate * recovery));
        return bees <= 1e15 ? OptionalLong.of((long) bees) : OptionalLong.empty();
    }
}
