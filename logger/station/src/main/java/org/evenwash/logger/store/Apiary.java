package org.evenwash.logger.store;

import java.time.Instant;
import java.time.ZoneId;
import java.util.UUID;

/**
 * A place where colonies stand. Its time zone decides what day an instant is.
 *
 * @param timeZone an IANA name such as {@code Europe/Vienna}
 */
public record Apiary(
        UUID id,
        String name,
        String timeZone,
        Hemisphere hemisphere,
        String remarks,
        Instant createdAt,
        long version) {

    public ZoneId zone() {
        return ZoneId.of(timeZone);
    }
}
