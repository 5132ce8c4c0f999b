package org.evenwash.logger.intake;

import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * When each bench was last written down as seen. Doing so with each record would make two stations over
 * one database wait for each other at the rows of the benches.
 */
final class Attendance {
    private static final long AGAIN_S = 2;

    /** A stranger on a broker could invent benches without end. */
    private static final int MOST_BENCHES = 20_000;

    private final Map<String, Instant> written = new HashMap<>();

    /** Benches of these messages that are to be written down again, and whether they are simulated. */
    Map<String, Boolean> due(List<Reading> messages, Instant at) {
        Map<String, Boolean> due = new TreeMap<>();
        for (Reading message : messages) {
            if (message instanceof Reading.Cycle cycle) {
                note(due, cycle.record().benchId(), cycle.record().simulated(), at);
            } else if (message instanceof Reading.Event event) {
                note(due, event.event().benchId(), event.event().simulated(), at);
            }
        }
        return due;
    }

    private void note(Map<String, Boolean> due, String benchId, boolean simulated, Instant at) {
        Instant before = written.get(benchId);
        // A clock that was set back counts as due, too.
        if (before == null || before.isAfter(at) || before.plusSeconds(AGAIN_S).isBefore(at)) {
            due.put(benchId, simulated);
        }
    }

    /** To be called once they are committed. */
    void written(Map<String, Boolean> benches, Instant at) {
        if (written.size() > MOST_BENCHES) {
            written.clear();
        }
        benches.keySet().forEach(id -> written.put(id, at));
    }
}
