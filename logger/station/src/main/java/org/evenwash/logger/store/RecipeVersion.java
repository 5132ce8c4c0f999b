package org.evenwash.logger.store;

import java.time.Instant;
import java.util.UUID;
import org.evenwash.record.RecipeSheet;

/** One version of a recipe; never changed, only followed by the next. */
public record RecipeVersion(
        RecipeSheet sheet,
        UUID calibrationId,
        Instant createdAt,
        UUID createdBy,
        Instant retiredAt) {}
