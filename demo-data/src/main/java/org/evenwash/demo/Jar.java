package org.evenwash.demo;

import java.util.SplittableRandom;

/**
 * A jar of bees whose truth the demo knows and the people in it do not: how many mites still cling
 * to the bees, and how many have been shaken off and counted.
 */
final class Jar {
    /**
     * Rate at which a clinging mite lets go while the jar is agitated, per second: 95 % are off
     * after 100 s. Invented for the demo; no published curve is claimed.
     */
    static final double LETTING_GO_PER_S = -Math.log(0.05) / 100;

    private final int bees;
    private final int mites;
    private int clinging;

    private Jar(int bees, int mites) {
        this.bees = bees;
        this.mites = mites;
        this.clinging = mites;
    }

    /**
     * Draws a sample of bees from a brood frame.
     *
     * @param mitesPer100 true infestation of the colony
     */
    static Jar sample(double mitesPer100, SplittableRandom random) {
        int bees = 285 + random.nextInt(36);
        return new Jar(bees, poisson(mitesPer100 * bees / 100, random));
    }

    int bees() {
        return bees;
    }

    /** All the mites that came in with the bees. */
    int mites() {
        return mites;
    }

    /** Agitates: the mites that let go are sieved out and counted. */
    int agitate(double agitation_s, SplittableRandom random) {
        double letsGo = -Math.expm1(-LETTING_GO_PER_S * agitation_s);
        int off = 0;
        for (int i = 0; i < clinging; i++) {
            off += random.nextDouble() < letsGo ? 1 : 0;
        }
        clinging -= off;
        return off;
    }

    private static int poisson(double mean, SplittableRandom random) {
        double product = random.nextDouble();
        int count = 0;
        for (double limit = Math.exp(-mean); product > limit; product *= random.nextDouble()) {
            count++;
        }
        return count;
    }
}
