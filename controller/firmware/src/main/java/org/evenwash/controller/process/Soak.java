package org.evenwash.controller.process;

import java.time.Duration;

/**
 * How long a jar stood in spirit after the last agitation.
 *
 * @param time until its removal, or as long as was watched
 * @param removed false when the jar was still there when the record was made: at least {@code time}
 */
public record Soak(int position, Duration time, boolean removed) {}
