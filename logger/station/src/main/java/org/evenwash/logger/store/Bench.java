package org.evenwash.logger.store;

import java.time.Instant;

/**
 * One machine.
 *
 * @param id 1 to 32 of the characters {@code a-z 0-9 -}
 * @param passwordHash bcrypt, null for a bench without access to the station's own broker
 * @param lastSeenAt of any message, null if never
 */
public record Bench(
        String id,
        String name,
        String passwordHash,
        boolean simulated,
        Instant addedAt,
        Instant lastSeenAt) {}
