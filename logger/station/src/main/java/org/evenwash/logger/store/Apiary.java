package org.evenwash.logger.store;

import java.time.Instant;
import java.time.ZoneId;
import java.util.UUID;

/**
 * A place where colonies stand. Its time zone decides what day an instant is.
 *
 * @param timeZone an IANA name such as {@code Europe/Vienna}
 * @param beeSieve_mm mesh of the upper sieve in use, which holds the bees; null if not stated
 * @param miteSieve_mm mesh of the lower sieve in use, on which mites stay; null if not stated
 */
public record Apiary(
        UUID id,
        String name,
        String timeZone,
        Hemisphere hemisphere,
        Double beeSieve_mm,
        Double miteSieve_mm,
        String remarks,
        Instant createdAt,
        long version) {

    public ZoneId zone() {
        return ZoneId.of(timeZone);
    }
}
