package org.evenwash.demo;

import java.util.SplittableRandom;

/** Random numbers of bees and mites. */
final class Draws {
    private Draws() {}

    /** How many of {@code trials} succeed, by skipping from one success to the next. */
    static int binomial(int trials, double share, SplittableRandom random) {
        if (share >= 1) {
            return trials;
        }
        if (share <= 0) {
            return 0;
        }
        if (share > 0.5) {
            return trials - binomial(trials, 1 - share, random);
        }
        double log = Math.log1p(-share);
        int successes = 0;
        double at = 0;
        while (true) {
            at += Math.floor(Math.log(1 - random.nextDouble()) / log) + 1;
            if (at > trials) {
                return successes;
            }
            successes++;
        }
    }
}
