package org.evenwash.logger.intake;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import org.awaitility.Awaitility;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.junit.jupiter.api.Test;

class ConnectionTest {
    private static final String CLIENT = "cut-off-station";

    /** As a tunnel or a proxy does while its broker is away; the station tries again and again. */
    @Test
    void lineThatIsCutBeforeTheLogIn_leavesNoThreadBehind() throws Exception {
        try (ServerSocket door = new ServerSocket(0, 50, InetAddress.getLoopbackAddress())) {
            Thread cutter = new Thread(() -> cut(door), "cuts");
            cutter.setDaemon(true);
            cutter.start();
            URI address = URI.create("mqtt://127.0.0.1:" + door.getLocalPort());
            LineConfig config = new LineConfig(address, null, null, CLIENT, null, null);
            for (int tries = 0; tries < 3; tries++) {
                Connection connection = new Connection(config, arrival -> {});
                assertThatThrownBy(connection::connect).isInstanceOf(MqttException.class);
                connection.close();
            }
        }
        Awaitility.await()
                .untilAsserted(
                        () ->
                                assertThat(Thread.getAllStackTraces().keySet())
                                        .extracting(Thread::getName)
                                        .noneMatch(name -> name.endsWith(CLIENT)));
    }

    private static void cut(ServerSocket door) {
        while (!door.isClosed()) {
            try {
                door.accept().close();
            } catch (IOException e) {
                return; // closed
            }
        }
    }
}
