package org.evenwash.analysis.apiary;

import org.evenwash.analysis.numeric.Hypergeometric;
import org.evenwash.analysis.numeric.Steps;

/**
 * How many colonies of an apiary may be over a threshold when some of the washed ones were. Each bound
 * alone holds with 95 %; both speak of wash readings, not of true infestations.
 *
 * @param atMost upper bound
 * @param atLeast lower bound
 * @param share share of the washed colonies that were over; NaN with none washed
 */
public record ColoniesOver(int atMost, int atLeast, double share) {

    /** Probabilities equal to 5 % occur exactly (20 colonies, 19 washed) and count as excluded. */
    static final double EXCLUDED = 0.05 * (1 + 1e-9);

    /** More colonies than any apiary has. */
    public static final int MOST_COLONIES = 1_000_000;

    /**
     * @param over washed colonies over the threshold, 0 to {@code washed}
     * @param washed 0 to {@code colonies}; with none washed the bounds say nothing
     * @param colonies all colonies, 1 to 1,000,000
     */
    public static ColoniesOver of(int over, int washed, int colonies) {
        check(over, washed, colonies);
        int most = colonies - (washed - over);
        long tooMany =
                Steps.smallestBetween(
                        d -> new Hypergeometric(colonies, (int) d, washed).atMost(over) <= EXCLUDED,
                        over,
                        most);
        long least =
                Steps.smallestBetween(
                        d -> new Hypergeometric(colonies, (int) d, washed).atLeast(over) > EXCLUDED,
                        over,
                        most);
        return new ColoniesOver((int) tooMany - 1, (int) least, (double) over / washed);
    }

    private static void check(int over, int washed, int colonies) {
        if (over < 0
                || over > washed
                || washed > colonies
                || colonies < 1
                || colonies > MOST_COLONIES) {
            throw new IllegalArgumentException(
                    over
                            + " over of "
                            + washed
                            + " washed of "
                            + colonies
                            + " colonies: each must be at most the next");
        }
    }
}
