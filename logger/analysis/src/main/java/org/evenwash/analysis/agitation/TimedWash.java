package org.evenwash.analysis.agitation;

import java.util.OptionalDouble;

/**
 * One wash whose catch was followed by a second wash of the same bees.
 *
 * @param agitationS total agitation of the first wash in seconds, bouts added, rests left out; 0.001
 *     to 1e7
 * @param firstWashMites mites caught by the first wash, 0 or more
 * @param secondWashMites mites caught by the second wash, 0 or more
 * @param secondWashS agitation of the second wash in seconds when it used the same method; empty
 *     when the second wash is known to take off everything that is left
 */
public record TimedWash(
        double agitationS, int firstWashMites, int secondWashMites, OptionalDouble secondWashS) {

    private static final double SHORTEST_S = 1e-3;
    private static final double LONGEST_S = 1e7;

    public TimedWash {
        requireTime("agitation", agitationS);
        secondWashS.ifPresent(seconds -> requireTime("second wash", seconds));
        if (firstWashMites < 0 || secondWashMites < 0) {
            throw new IllegalArgumentException(
                    "mites cannot be negative: first wash "
                            + firstWashMites
                            + ", second wash "
                            + secondWashMites);
        }
    }

    /** A wash followed by an exhaustive second wash. */
    public TimedWash(double agitationS, int firstWashMites, int secondWashMites) {
        this(agitationS, firstWashMites, secondWashMites, OptionalDouble.empty());
    }

    /** All mites that were on the bees, as far as both washes show. */
    public double mites() {
        return (double) firstWashMites + secondWashMites;
    }

    private static void requireTime(String what, double seconds) {
        if (!(seconds >= SHORTEST_S && seconds <= LONGEST_S)) {
            throw new IllegalArgumentException(
                    what
                            + " of "
                            + seconds
                            + " s: expected "
                            + SHORTEST_S
                            + " to "
                            + LONGEST_S
                            + " s");
        }
    }
}
