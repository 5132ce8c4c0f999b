package org.evenwash.logger.intake;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.nio.file.Path;
import java.time.Clock;
import java.util.Set;
import javax.net.ssl.SSLHandshakeException;
import org.awaitility.Awaitility;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.evenwash.logger.broker.Broker;
import org.evenwash.logger.tls.Authority;
import org.evenwash.logger.tls.Authority.Server;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ConnectionTest {
    private static final String CLIENT = "cut-off-station";
    private static final String BENCH = "shed-1";
    private static final String PASSWORD = "words of the shed";

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

    /** A broker elsewhere is the one that was asked for only by its certificate. */
    @Test
    void lineOverTls_opensToABrokerOfOurAuthorityAndThatName_andToNoOther(@TempDir Path folder)
            throws Exception {
        Path tls = folder.resolve("tls");
        Authority authority = new Authority(tls, Clock.systemUTC());
        authority.create("a test");
        authority.issue(Server.BROKER, Set.of());
        Authority stranger = new Authority(folder.resolve("other"), Clock.systemUTC());
        stranger.create("somebody else");
        try (Broker named = broker(folder.resolve("named"), "127.0.0.1", tls);
                Broker unnamed = broker(folder.resolve("unnamed"), "127.0.0.2", tls)) {
            Connection connection = secure("127.0.0.1", named.port(), authority.trust());
            connection.connect();
            assertThat(connection.isOpen()).isTrue();
            connection.close();

            Connection strange = secure("127.0.0.1", named.port(), stranger.trust());
            assertThatThrownBy(strange::connect).hasCauseInstanceOf(SSLHandshakeException.class);
            strange.close();

            Connection misled = secure("127.0.0.2", unnamed.port(), authority.trust());
            assertThatThrownBy(misled::connect)
                    .hasCauseInstanceOf(SSLHandshakeException.class)
                    .rootCause()
                    .hasMessageContaining("127.0.0.2");
            misled.close();
        }
    }

    private static Broker broker(Path folder, String host, Path tls) {
        return Broker.start(
                folder,
                host,
                0,
                Server.BROKER.in(tls),
                (bench, password) -> password.equals(PASSWORD));
    }

    private static Connection secure(String host, int port, Path trust) throws MqttException {
        URI address = URI.create("mqtts://" + host + ":" + port);
        return new Connection(
                new LineConfig(address, BENCH, PASSWORD, "evenwash-bench-" + BENCH, trust, null),
                arrival -> {});
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
