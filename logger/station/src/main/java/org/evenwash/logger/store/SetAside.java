package org.evenwash.logger.store;

import java.time.Instant;
import java.util.UUID;

/**
 * A message that could not be taken, kept as it came.
 *
 * @param benchId from the topic, null where the topic names none
 * @param messageId null where the payload could not be read that far
 * @param replayResult what became of it when it was tried again, null if it was not
 */
public record SetAside(
        UUID id,
        Instant receivedAt,
        String topic,
        String benchId,
        UUID messageId,
        String reason,
        String sha256,
        long size_bytes,
        Instant replayedAt,
        String replayResult) {}
