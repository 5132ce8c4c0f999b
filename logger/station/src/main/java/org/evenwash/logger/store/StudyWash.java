package org.evenwash.logger.store;

import java.time.LocalDate;
import java.util.UUID;

/**
 * A wash whose bees were washed again, both catches counted.
 *
 * @param operator name, null if nobody is named
 * @param benchId null if shaken by hand
 * @param recipeId of its last first-wash cycle, null if shaken by hand
 * @param recipe its name
 * @param agitation_s of the first wash, cycles added or timed by hand; null if not known
 * @param secondAgitation_s of the second
 * @param conforms whether every cycle of the first wash was as its recipe asks; null by hand
 * @param departures in which points the last was not; null by hand
 * @param batchId of the spirit of the first wash, null if none is named
 * @param excludedWhy reason for which a person left it out, null if nobody did
 */
public record StudyWash(
        UUID washId,
        LocalDate sampledOn,
        String colony,
        UUID operatorId,
        String operator,
        String benchId,
        String recipeId,
        Integer recipeVersion,
        String recipe,
        int firstMites,
        int secondMites,
        Double agitation_s,
        Double secondAgitation_s,
        Boolean conforms,
        String departures,
        UUID batchId,
        String batch,
        String excludedWhy) {}
