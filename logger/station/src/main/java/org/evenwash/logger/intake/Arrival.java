package org.evenwash.logger.intake;

/**
 * A message as the broker delivered it, and what it says.
 *
 * @param connection the one to acknowledge on; another would acknowledge something else
 */
record Arrival(Connection connection, int packetId, int qos, Reading reading) {

    void acknowledge() {
        if (qos > 0) {
            connection.acknowledge(packetId, qos);
        }
    }
}
