package org.evenwash.controller.mqtt;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.awaitility.Awaitility;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.evenwash.controller.Mosquitto;
import org.evenwash.controller.config.Configuration.Broker;
import org.evenwash.controller.mqtt.BrokerLink.Incoming;
import org.evenwash.record.Topics;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** One connection to a real broker: what the broker answers, what it kept, and an end at any moment. */
class ConnectionTest {
    private static final String BENCH = "bench-1";
    private static final long TIMEOUT_MS = 5_000;

    @TempDir Path folder;
    private final BlockingQueue<Incoming> arrived = new LinkedBlockingQueue<>();
    private final BlockingQueue<Integer> reasons = new LinkedBlockingQueue<>();
    private Mosquitto broker;
    private MqttAsyncClient logger;

    @BeforeEach
    void start() throws Exception {
        Path rules = folder.resolve("rules");
        // Everything but events: the broker refuses those.
        Files.writeString(
                rules,
                """
                topic readwrite evenwash/v1/+/cycle
                topic readwrite evenwash/v1/+/state
                topic readwrite evenwash/v1/+/command
                topic readwrite evenwash/v1/+/ticket
                topic readwrite evenwash/v1/+/receipt
                topic read evenwash/v1/+/event
                """);
        broker = Mosquitto.start(folder, List.of("acl_file " + rules));
        logger =
                new MqttAsyncClient(
                        "tcp://127.0.0.1:" + broker.port(), "logger", new MemoryPersistence());
        logger.connect().waitForCompletion(TIMEOUT_MS);
    }

    @AfterEach
    void stop() throws Exception {
        logger.disconnectForcibly(0, 100, false);
        logger.close(true);
        broker.close();
    }

    private Connection open() throws Exception {
        return Connection.open(
                Broker.plain("127.0.0.1", broker.port()),
                BENCH,
                new byte[0],
                arrived::add,
                () -> {});
    }

    /** As a tunnel or a proxy does while its broker is away; the bench tries again and again. */
    @Test
    void lineThatIsCutBeforeTheLogIn_leavesNoThreadBehind() throws Exception {
        try (CuttingDoor door = new CuttingDoor()) {
            for (int tries = 0; tries < 3; tries++) {
                assertThatThrownBy(
                                () ->
                                        Connection.open(
                                                Broker.plain("127.0.0.1", door.port()),
                                                "cut-off",
                                                new byte[0],
                                                arrived::add,
                                                () -> {}))
                        .isInstanceOf(MqttException.class);
            }
        }
        Awaitility.await()
                .untilAsserted(
                        () ->
                                assertThat(Thread.getAllStackTraces().keySet())
                                        .extracting(Thread::getName)
                                        .noneMatch(name -> name.endsWith("cut-off")));
    }

    /** Accepts and closes at once. */
    private static final class CuttingDoor implements AutoCloseable {
        private final ServerSocket door;

        CuttingDoor() throws IOException {
            door = new ServerSocket(0, 50, InetAddress.getLoopbackAddress());
            Thread thread = new Thread(this::cut, "cuts");
            thread.setDaemon(true);
            thread.start();
        }

        private void cut() {
            while (!door.isClosed()) {
                try {
                    door.accept().close();
                } catch (IOException e) {
                    return; // closed
                }
            }
        }

        int port() {
            return door.getLocalPort();
        }

        @Override
        public void close() throws IOException {
            door.close();
        }
    }

    private void send(Topics.Kind kind, String payload, boolean retained) throws Exception {
        MqttMessage message = new MqttMessage(payload.getBytes(StandardCharsets.UTF_8));
        message.setQos(1);
        message.setRetained(retained);
        logger.publish(Topics.of(BENCH, kind), message).waitForCompletion(TIMEOUT_MS);
    }

    private int reasonFor(Connection connection, Topics.Kind kind) throws Exception {
        connection.publish(Topics.of(BENCH, kind), new byte[] {'x'}, reasons::add);
        Integer reason = reasons.poll(10, TimeUnit.SECONDS);
        assertThat(reason).as("answer for " + kind).isNotNull();
        return reason;
    }

    /** MQTT 5 section 3.4.2.1: 0 taken, 16 no matching subscribers, 135 not authorized. */
    @Test
    void brokersAnswer_isItsReasonCode_notMerelySuccess() throws Exception {
        try (Connection connection = open()) {
            assertThat(reasonFor(connection, Topics.Kind.CYCLE)).isEqualTo(16);
            logger.subscribe(Topics.of(BENCH, Topics.Kind.CYCLE), 1).waitForCompletion(TIMEOUT_MS);
            assertThat(reasonFor(connection, Topics.Kind.CYCLE)).isZero();
            assertThat(connection.alive()).isTrue();
            // Last: Mosquitto 2.0.11 answers and then closes the connection of whoever it refused.
            assertThat(reasonFor(connection, Topics.Kind.EVENT)).isEqualTo(135);
        }
    }

    @Test
    void commandThatTheBrokerKept_isNotDeliveredToABenchThatConnects() throws Exception {
        send(Topics.Kind.COMMAND, "kept", true);
        try (Connection connection = open()) {
            send(Topics.Kind.COMMAND, "fresh", false);
            Incoming first = arrived.poll(10, TimeUnit.SECONDS);
            assertThat(first).isNotNull();
            assertThat(first.payload()).asString(StandardCharsets.UTF_8).isEqualTo("fresh");
            assertThat(arrived).isEmpty();
            assertThat(connection.alive()).isTrue();
        }
    }

    @Test
    void closedTwice_andAcknowledgedAfterwards_isNoError() throws Exception {
        Connection connection = open();
        send(Topics.Kind.TICKET, "one", false);
        Incoming late = arrived.poll(10, TimeUnit.SECONDS);
        assertThat(late).isNotNull();
        connection.close();
        assertThatCode(late.acknowledge()::run).doesNotThrowAnyException();
        assertThatCode(connection::close).doesNotThrowAnyException();
        assertThat(connection.alive()).isFalse();
    }

    @Test
    void brokerGone_acknowledgingAndClosingIsNoError() throws Exception {
        Connection connection = open();
        send(Topics.Kind.TICKET, "one", false);
        Incoming late = arrived.poll(10, TimeUnit.SECONDS);
        assertThat(late).isNotNull();
        broker.kill();
        Awaitility.await().atMost(Duration.ofSeconds(10)).until(() -> !connection.alive());
        assertThatCode(late.acknowledge()::run).doesNotThrowAnyException();
        assertThatCode(connection::close).doesNotThrowAnyException();
        assertThat(connection.whyLost()).isNotBlank();
    }
}
