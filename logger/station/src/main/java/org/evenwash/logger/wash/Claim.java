package org.evenwash.logger.wash;

import java.util.ArrayList;
import java.util.List;
import org.evenwash.analysis.apiary.ColoniesOver;
import org.evenwash.analysis.apiary.ColoniesToWash;

/**
 * What washing some colonies of an apiary will allow to say of all of them, each with 95 %
 * (hypergeometric; Cannon and Roe 1982). It speaks of wash readings, not of true infestations.
 *
 * @param colonies that stand in the apiary, 1 or more
 * @param washed 1 to {@code colonies}, drawn at random
 * @param ifNoneOver how many of all may be over the threshold if none of the washed is
 * @param ifOneOver the same if one of them is
 */
public record Claim(int colonies, int washed, int ifNoneOver, int ifOneOver) {

    /** A claim that may be wanted, and the fewest colonies to wash for it. */
    public record Wanted(int atMostOver, int fewest) {}

    public static Claim of(int washed, int colonies) {
        return new Claim(
                colonies,
                washed,
                ColoniesOver.of(0, washed, colonies).atMost(),
                ColoniesOver.of(1, washed, colonies).atMost());
    }

    /** From "none is over" to "half may be", in steps that differ in the number to wash. */
    public static List<Wanted> wanted(int colonies) {
        List<Wanted> all = new ArrayList<>();
        int before = colonies + 1;
        for (int share : new int[] {0, 5, 10, 20, 30, 50}) {
            int most = colonies * share / 100;
            int fewest = ColoniesToWash.ifNoneIsOver(most, colonies).orElse(colonies);
            if (fewest < before) {
                all.add(new Wanted(most, fewest));
                before = fewest;
            }
        }
        return all;
    }
}
