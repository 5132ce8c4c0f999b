package org.evenwash.logger.store;

import java.time.Instant;
import java.util.UUID;

/**
 * The catch of one pass, counted once by one person.
 *
 * @param recount false for the count that the result rests on
 * @param blind counted without knowing the earlier count
 */
public record MiteCount(
        UUID id,
        UUID passId,
        int mites,
        UUID countedBy,
        Instant countedAt,
        boolean recount,
        boolean blind,
        long version) {}
