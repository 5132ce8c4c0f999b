package org.evenwash.demo;

import java.util.List;
import java.util.SplittableRandom;

/**
 * One day in two invented apiaries, after the months that {@link Past} tells of. What the people in it
 * do is written down here; what they find follows from bees and mites drawn by a seed and from what the
 * bench really did.
 */
final class Scenario {
    static final long SEED = 22;

    static final Apiary QUILLMOOR = new Apiary("Quillmoor", "UTC", "NORTHERN");
    static final Apiary BRINDLE_HOLLOW = new Apiary("Brindle Hollow", "UTC", "NORTHERN");
    static final List<Apiary> APIARIES = List.of(QUILLMOOR, BRINDLE_HOLLOW);

    static final List<String> OPERATORS = List.of("Oriel", "Bastan", "Wenna");

    /** Of those that ship with the logger, the one that this keeper goes by. */
    static final String THRESHOLD = "university-of-florida";

    /** Stand at Quillmoor too, and are not washed today; most of them never were. */
    static final List<String> NOT_TODAY =
            List.of("Comfrey", "Vetch", "Sainfoin", "Chicory", "Lupin", "Hyssop");

    record Apiary(String name, String timeZone, String hemisphere) {}

    /** What happens at the bench, beside the plain course of things. */
    enum Course {
        PLAIN,
        LID_OPENED,
        STOPPED_EARLY,
        EMERGENCY_STOP,
        NO_TICKET,
        BY_HAND
    }

    /**
     * One wash as it is meant.
     *
     * @param recountBy who counts the mites again without knowing the first count; null for nobody
     * @param secondWash whether the same bees are washed again in fresh spirit
     */
    record Plan(
            Apiary apiary,
            String colony,
            String operator,
            Course course,
            String recountBy,
            boolean secondWash) {}

    static final List<Plan> WASHES =
            List.of(
                    new Plan(QUILLMOOR, "Sorrel", "Oriel", Course.PLAIN, null, false),
                    new Plan(QUILLMOOR, "Teasel", "Oriel", Course.PLAIN, "Wenna", false),
                    new Plan(QUILLMOOR, "Borage", "Bastan", Course.LID_OPENED, null, false),
                    new Plan(QUILLMOOR, "Melilot", "Bastan", Course.PLAIN, null, true),
                    new Plan(QUILLMOOR, "Yarrow", "Wenna", Course.PLAIN, "Oriel", true),
                    new Plan(QUILLMOOR, "Tansy", "Wenna", Course.STOPPED_EARLY, null, false),
                    new Plan(QUILLMOOR, "Bugle", "Oriel", Course.EMERGENCY_STOP, null, false),
                    new Plan(QUILLMOOR, "Clover", "Oriel", Course.PLAIN, null, true),
                    new Plan(BRINDLE_HOLLOW, "Fennel", "Bastan", Course.NO_TICKET, null, false),
                    new Plan(BRINDLE_HOLLOW, "Mallow", "Wenna", Course.BY_HAND, null, false));

    private Scenario() {}

    /** Fills one jar for each wash, in their order. */
    static List<Jar> jars(SplittableRandom random) {
        return WASHES.stream().map(plan -> Jar.sample(Past.today(plan.colony()), random)).toList();
    }
}
