package org.evenwash.logger.store;

import java.time.Instant;
import java.util.UUID;

/**
 * Which protocol or threshold is used, and since when.
 *
 * @param apiaryId null for the whole station
 * @param key short name of the protocol or threshold
 * @param contentJson all of it, as it read when it was chosen
 * @param endedAt when another was chosen, null while it is in use
 */
public record EditionChoice(
        UUID id,
        Kind kind,
        UUID apiaryId,
        String key,
        String edition,
        String contentJson,
        Instant chosenAt,
        UUID chosenBy,
        Instant endedAt) {

    public enum Kind {
        PROTOCOL,
        THRESHOLD
    }
}
