package org.evenwash.logger.wash;

import org.evenwash.logger.store.Handling;

/** What can be true of a wash's handling. Bounds are generous: they catch a slipped unit, not a habit. */
public final class HandlingCheck {
    public static final int MOST_FRAMES = 60;
    public static final int MOST_TIMES_WASHED = 20;
    public static final double MOST_LIQUID_ML = 10_000;
    public static final double FINEST_MESH_MM = 0.05;
    public static final double COARSEST_MESH_MM = 20;

    private HandlingCheck() {}

    static void check(Handling handling) {
        Integer frames = handling.frames();
        if (frames != null && (frames < 1 || frames > MOST_FRAMES)) {
            throw Refused.invalid("frames", "is " + frames, "enter 1 to " + MOST_FRAMES);
        }
        Integer times = handling.timesWashed();
        if (times != null && (times < 1 || times > MOST_TIMES_WASHED)) {
            throw Refused.invalid("times washed", "is " + times, "enter 1 to " + MOST_TIMES_WASHED);
        }
        Entry.range("liquid in the jar", handling.liquid_mL(), 1, MOST_LIQUID_ML, "mL");
        sieves(handling.beeSieve_mm(), handling.miteSieve_mm());
    }

    static void sieves(Double beeSieve_mm, Double miteSieve_mm) {
        mesh("mesh of the bee sieve", beeSieve_mm);
        mesh("mesh of the mite sieve", miteSieve_mm);
        if (swapped(beeSieve_mm, miteSieve_mm)) {
            throw Refused.invalid(
                    "mesh of the mite sieve",
                    "is " + miteSieve_mm + " mm, no finer than that of the bee sieve",
                    "check which is which: bees stay on the coarse one, mites on the fine one below");
        }
    }

    /** Mites would have to stay on what lets bees through. */
    public static boolean swapped(Double beeSieve_mm, Double miteSieve_mm) {
        return beeSieve_mm != null && miteSieve_mm != null && miteSieve_mm >= beeSieve_mm;
    }

    private static void mesh(String where, Double mesh_mm) {
        Entry.range(where, mesh_mm, FINEST_MESH_MM, COARSEST_MESH_MM, "mm");
    }
}
