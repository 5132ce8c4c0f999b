package org.evenwash.logger.store;

import java.time.Instant;
import java.util.UUID;
import org.evenwash.record.ClockState;
import org.evenwash.record.Outcome;

/**
 * A cycle as it is looked up; the whole record is read with {@link Cycles#record}.
 *
 * @param departures in which points it is not what its recipe asks; empty if it conforms
 * @param sequenceClash another message has claimed the same number of the same outbox
 */
public record CycleLine(
        UUID id,
        String benchId,
        UUID outboxId,
        long sequence,
        boolean simulated,
        Outcome outcome,
        Instant startedAt,
        Instant endedAt,
        ClockState clock,
        double duration_s,
        double plannedAgitation_s,
        double agitation_s,
        double withinTolerance_s,
        boolean conforms,
        String departures,
        UUID continuesCycleId,
        String recipeId,
        int recipeVersion,
        String recipeHash,
        boolean sequenceClash,
        String sha256,
        Instant receivedAt) {}
