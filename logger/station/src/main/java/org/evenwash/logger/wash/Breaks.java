package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.ColonyEvent;

/** Where a colony's series is cut: washes on both sides belong to different trends. */
final class Breaks {
    private Breaks() {}

    /** Whether an event cuts the series of this colony. */
    static boolean cuts(UUID colonyId, ColonyEvent event) {
        boolean concerns =
                event.colonyId().equals(colonyId) || colonyId.equals(event.otherColonyId());
        return concerns && event.kind().breaksTrend();
    }

    /** Days of all cuts. A treatment that lasts cuts twice, so that its course stands by itself. */
    static List<LocalDate> days(UUID colonyId, List<ColonyEvent> events) {
        List<LocalDate> days = new ArrayList<>();
        for (ColonyEvent event : events) {
            if (cuts(colonyId, event)) {
                days.add(event.onDay());
                if (event.untilDay() != null) {
                    days.add(event.untilDay());
                }
            }
        }
        return days;
    }
}
