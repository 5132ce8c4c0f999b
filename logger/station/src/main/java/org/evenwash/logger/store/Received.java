package org.evenwash.logger.store;

/**
 * A record or event as it came.
 *
 * @param json its text, kept as it is: what a later minor version adds is not lost
 * @param sha256 of the payload's bytes
 */
public record Received<T>(T message, String json, String sha256) {}
