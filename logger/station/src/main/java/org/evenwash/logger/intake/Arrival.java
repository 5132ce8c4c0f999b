package org.evenwash.logger.intake;

import java.util.List;
import java.util.stream.Collectors;

/**
 * A message as the broker delivered it, and what it says.
 *
 * @param connection the one to acknowledge on; another would acknowledge something else
 */
record Arrival(Connection connection, int packetId, int qos, Reading reading) {

    void acknowledge() {
        acknowledge(List.of(this));
    }

    /** Each on the connection that brought it. */
    static void acknowledge(List<Arrival> all) {
        all.stream()
                .filter(arrival -> arrival.qos > 0)
                .collect(Collectors.groupingBy(Arrival::connection))
                .forEach(Connection::acknowledge);
    }
}
