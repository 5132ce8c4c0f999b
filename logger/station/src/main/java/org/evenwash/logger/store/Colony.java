package org.evenwash.logger.store;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;

/**
 * The bees; their hive is only a box. The id is for ever, all else follows from dated events.
 *
 * @param endedOn when it died or was merged into another, null while it lives
 */
public record Colony(
        UUID id,
        UUID apiaryId,
        String name,
        LocalDate endedOn,
        String remarks,
        Instant createdAt,
        long version) {}
