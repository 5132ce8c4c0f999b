package org.evenwash.logger.store;

import java.time.LocalDate;
import java.util.UUID;

/**
 * A colony as a list shows it.
 *
 * @param lastWash day of its last wash, counted or not; null if it was never washed
 * @param washId its last wash with a result; null, with all that follows, without one
 */
public record ColonyLine(
        UUID id,
        String name,
        UUID apiaryId,
        String apiary,
        LocalDate endedOn,
        LocalDate lastWash,
        UUID washId,
        LocalDate sampledOn,
        Double bees,
        BeeMeasure beeMeasure,
        Double beesLogSd,
        Integer mites) {}
