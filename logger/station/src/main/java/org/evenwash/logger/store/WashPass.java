package org.evenwash.logger.store;

import java.util.UUID;
import org.evenwash.record.Pass;

/**
 * One agitation of a wash's jar: first wash, second wash, or spirit alone.
 *
 * @param handAgitation_s as timed by a person where no bench shook it, else null
 */
public record WashPass(
        UUID id,
        UUID washId,
        Pass kind,
        UUID spiritBatchId,
        Double handAgitation_s,
        long version) {}
