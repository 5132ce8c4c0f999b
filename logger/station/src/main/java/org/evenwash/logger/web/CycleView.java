package org.evenwash.logger.web;

import org.evenwash.record.ClockState;
import org.evenwash.record.CycleRecord;

/**
 * A cycle and its picture.
 *
 * @param strip SVG text, null where there is nothing to draw
 */
public record CycleView(CycleRecord record, String strip) {

    static CycleView of(CycleRecord record) {
        return new CycleView(record, Pictures.strip(record));
    }

    /** True where the day and time of the cycle may be wrong. */
    public boolean clockUnsure() {
        return record.clock() != ClockState.SYNCHRONISED;
    }
}
