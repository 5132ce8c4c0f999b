package org.evenwash.logger.store;

import java.time.Instant;
import java.util.UUID;
import org.evenwash.record.Outcome;
import org.evenwash.record.Pass;

/** A jar position of a cycle that no wash has claimed. */
public record UnassignedCycle(
        UUID cycleId,
        int position,
        Pass kind,
        String benchId,
        Instant startedAt,
        Outcome outcome,
        double agitation_s,
        boolean conforms,
        boolean simulated) {}
