package org.evenwash.logger.store;

import java.time.Instant;
import java.util.UUID;

/**
 * A person's way in. The hash of the password is not part of it, so that it cannot slip into a page
 * or a log.
 *
 * @param name as it is typed at sign-in, in lower case
 * @param failures wrong passwords since the last right one
 * @param lockedUntil null if it never was locked
 * @param closedAt null while it may be used
 */
public record Account(
        UUID id,
        UUID operatorId,
        String name,
        Role role,
        int failures,
        Instant lockedUntil,
        Instant createdAt,
        Instant closedAt) {

    public boolean open() {
        return closedAt == null;
    }
}
