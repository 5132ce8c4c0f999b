package org.evenwash.logger.store;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;

/**
 * A colony as a list shows it.
 *
 * @param lastWash day of its last wash, counted or not; null if it was never washed
 * @param lastDay its washes with a result of the last day that has one, in their order
 */
public record ColonyLine(
        UUID id,
        String name,
        UUID apiaryId,
        String apiary,
        LocalDate endedOn,
        LocalDate lastWash,
        List<CountedWash> lastDay) {
    public ColonyLine {
        lastDay = List.copyOf(lastDay);
    }
}
