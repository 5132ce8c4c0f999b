package org.evenwash.logger.access;

import java.util.UUID;
import org.evenwash.logger.store.Role;

/**
 * Who asks, once known.
 *
 * @param operatorId the person of the yard in whose name things are entered
 * @param name as typed at sign-in
 * @param role null for a token that may read the figures only
 */
public record Person(UUID accountId, UUID operatorId, String name, Role role) {}
