package org.evenwash.logger.store;

import java.time.LocalDate;
import java.util.UUID;

/**
 * A wash as a list shows it.
 *
 * @param mites first wash, first count; null until counted
 * @param agitation_s all cycles of the first wash, or as timed by hand; null without either
 * @param conforms whether all its cycles conform to their recipes, null without a cycle
 */
public record WashLine(
        UUID id,
        LocalDate sampledOn,
        UUID colonyId,
        String colony,
        UUID apiaryId,
        String apiary,
        String operator,
        Double bees,
        BeeMeasure beeMeasure,
        Double beesLogSd,
        Integer mites,
        Double agitation_s,
        Boolean conforms,
        boolean simulated) {}
