package org.evenwash.logger.store;

import java.time.Instant;
import java.util.UUID;

/** A person who washes or counts. */
public record Operator(UUID id, String name, boolean active, Instant createdAt) {}
