package org.evenwash.analysis.numeric;

import java.util.function.LongPredicate;

/** Searches over whole numbers. */
public final class Steps {

    private Steps() {}

    /** The smallest j in a range for which a test holds that, once true, stays true; {@code high + 1} if none. */
    public static long smallestBetween(LongPredicate holds, long low, long high) {
        long least = low;
        long beyond = high + 1;
        while (least < beyond) {
            long middle = least + (beyond - least) / 2;
            if (holds.test(middle)) {
                beyond = middle;
            } else {
                least = middle + 1;
            }
        }
        return least;
    }

    /** As {@link #smallestBetween}, looked for in doubling steps around a guess; the test must hold somewhere. */
    static long smallest(LongPredicate holds, long guess, long step, long lowest) {
        long stride = step;
        long low = guess;
        long high = guess;
        while (low > lowest && holds.test(low)) {
            high = low;
            low = Math.max(lowest, low - stride);
            stride *= 2;
        }
        while (!holds.test(high)) {
            low = high;
            high += stride;
            stride *= 2;
        }
        return smallestBetween(holds, low, high);
    }
}
