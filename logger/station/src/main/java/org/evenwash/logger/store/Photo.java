package org.evenwash.logger.store;

import java.time.Instant;
import java.util.UUID;

/**
 * What is known of a photo without opening it.
 *
 * @param mediaType {@code image/jpeg} or {@code image/png}
 */
public record Photo(UUID id, UUID washId, String mediaType, Instant takenAt, UUID addedBy) {}
