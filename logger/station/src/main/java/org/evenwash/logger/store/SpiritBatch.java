package org.evenwash.logger.store;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;

/**
 * One mixing of spirit that is used for several washes.
 *
 * @param kind what it is, such as {@code ethanol} or {@code methylated spirit}
 * @param strength_pctVol null if unknown
 * @param flashPoint_C the cautious (lower) value, null if unknown
 * @param mixingJson what it was mixed from, null if bought so
 */
public record SpiritBatch(
        UUID id,
        String name,
        String kind,
        Double strength_pctVol,
        Double flashPoint_C,
        Double volume_mL,
        LocalDate mixedOn,
        LocalDate discardedOn,
        String mixingJson,
        String remarks,
        Instant createdAt,
        long version) {}
