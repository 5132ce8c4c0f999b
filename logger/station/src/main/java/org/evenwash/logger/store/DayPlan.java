package org.evenwash.logger.store;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;

/**
 * A day's work in one apiary.
 *
 * @param seed of the random draw, null where the colonies were chosen
 * @param claimJson what this number of washes allows to say, as it was worked out then
 */
public record DayPlan(
        UUID id,
        UUID apiaryId,
        LocalDate onDay,
        Long seed,
        String claimJson,
        Instant createdAt,
        UUID createdBy) {}
