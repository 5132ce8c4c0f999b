package org.evenwash.logger.store;

import java.time.Instant;
import java.util.UUID;

/**
 * One value of a piece of evidence that was changed.
 *
 * @param subject what kind of row, such as {@code mite count}
 * @param version the row's version before the change
 */
public record Correction(
        UUID id,
        String subject,
        UUID subjectId,
        UUID washId,
        String field,
        String earlier,
        String later,
        long version,
        Instant correctedAt,
        UUID correctedBy,
        String why) {}
