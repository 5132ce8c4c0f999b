package org.evenwash.logger.store;

/**
 * How long a jar stood in spirit after the last agitation.
 *
 * @param removed false when the jar was still there when the record was made: at least {@code
 *     soak_s}
 */
public record Soak(int position, double soak_s, boolean removed) {}
