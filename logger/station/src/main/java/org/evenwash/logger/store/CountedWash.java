package org.evenwash.logger.store;

import java.time.LocalDate;
import java.util.UUID;

/**
 * A wash that has a result: bees known and the first wash counted.
 *
 * @param apiaryId where the colony stood on that day
 * @param mites first wash, first count
 * @param agitation_s of the first wash: that of all its cycles, each as its recipe asks where it ran
 *     within a second of that and else rounded to seconds, or as timed by hand; null where neither is
 *     recorded
 */
public record CountedWash(
        UUID id,
        UUID colonyId,
        UUID apiaryId,
        LocalDate sampledOn,
        double bees,
        BeeMeasure beeMeasure,
        Double beesLogSd,
        int mites,
        Double agitation_s) {

    /** Mites per 100 bees, as washed. */
    public double per100Bees() {
        return 100 * mites / bees;
    }
}
