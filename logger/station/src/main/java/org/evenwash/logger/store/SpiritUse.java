package org.evenwash.logger.store;

import java.time.Instant;
import java.util.UUID;

/**
 * Something that happened to a batch of spirit.
 *
 * @param passId with WASH, the pass it was used for
 * @param volume_mL with TOP_UP what came in, with LOSS what went
 * @param strength_pctVol with TOP_UP, of what came in
 */
public record SpiritUse(
        UUID id,
        UUID spiritBatchId,
        Kind kind,
        UUID passId,
        Double volume_mL,
        Double strength_pctVol,
        String remarks,
        Instant happenedAt,
        UUID recordedBy) {

    public enum Kind {
        WASH,
        TOP_UP,
        LOSS,
        SIEVED,
        MURKY
    }
}
