package org.evenwash.logger.store;

import java.time.Instant;
import java.util.UUID;

/**
 * A program's way in, in the name of an account.
 *
 * @param role never more than the account's at the moment of use; null for the figures only
 * @param usedAt null if it never was
 * @param withdrawnAt null while it may be used
 */
public record ApiToken(
        UUID id,
        UUID accountId,
        String name,
        Role role,
        Instant madeAt,
        Instant expiresAt,
        Instant usedAt,
        Instant withdrawnAt) {}
