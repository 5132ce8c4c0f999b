package org.evenwash.logger.store;

import java.time.LocalDate;
import java.util.UUID;

/** Which washes a list shows; null means any. Both days are included. */
public record WashFilter(UUID apiaryId, UUID colonyId, LocalDate fromDay, LocalDate toDay) {
    public static final WashFilter ALL = new WashFilter(null, null, null, null);

    public static WashFilter ofColony(UUID colonyId) {
        return new WashFilter(null, colonyId, null, null);
    }

    public static WashFilter ofApiary(UUID apiaryId) {
        return new WashFilter(apiaryId, null, null, null);
    }
}
