package org.evenwash.analysis.apiary;

import java.util.OptionalInt;
import org.evenwash.analysis.numeric.Hypergeometric;
import org.evenwash.analysis.numeric.Steps;

/** How many colonies to wash for a claim about the whole apiary (Cannon and Roe 1982). */
public final class ColoniesToWash {

    private ColoniesToWash() {}

    /**
     * The fewest colonies to wash so that, with none of them over the threshold, "at most {@code most}
     * of {@code colonies} are over" holds with 95 %.
     *
     * @param most 0 to {@code colonies}
     */
    public static OptionalInt ifNoneIsOver(int most, int colonies) {
        return fewest(0, most, colonies);
    }

    /** As {@link #ifNoneIsOver}, but with one washed colony over; empty where not even all suffice. */
    public static OptionalInt ifOneIsOver(int most, int colonies) {
        return fewest(1, most, colonies);
    }

    private static OptionalInt fewest(int over, int most, int colonies) {
        if (most < 0 || most > colonies || colonies < 1 || colonies > ColoniesOver.MOST_COLONIES) {
            throw new IllegalArgumentException(
                    "at most " + most + " of " + colonies + " colonies is no claim");
        }
        long n =
                Steps.smallestBetween(
                        washed -> excludesMore(over, most, (int) washed, colonies),
                        over + 1,
                        colonies);
        return n > colonies ? OptionalInt.empty() : OptionalInt.of((int) n);
    }

    private static boolean excludesMore(int over, int most, int washed, int colonies) {
        return most == colonies
                || new Hypergeometric(colonies, most + 1, washed).atMost(over)
                        <= ColoniesOver.EXCLUDED;
    }
}
