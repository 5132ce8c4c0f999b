package org.evenwash.logger.intake;

import static java.util.concurrent.TimeUnit.SECONDS;
import static org.assertj.core.api.Assertions.assertThat;

import java.net.URI;
import java.util.concurrent.CompletableFuture;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.evenwash.record.Topics;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

class InboxTest {
    private static final int A_MEBIBYTE = 1024 * 1024;
    private final Inbox inbox = new Inbox();
    private Connection connection;

    @BeforeEach
    void neverConnected() throws MqttException {
        LineConfig config =
                new LineConfig(URI.create("mqtt://127.0.0.1:1"), null, null, "test", null, null);
        connection = new Connection(config, arrival -> {});
    }

    private Arrival arrival(int packetId, int qos, int size_bytes) {
        Payload payload = new Payload(new byte[size_bytes]);
        String topic = Topics.of("bench-1", Topics.Kind.CYCLE);
        Reading reading = new Reading.Unreadable(topic, payload, "", "bench-1", null, "is empty");
        return new Arrival(connection, packetId, qos, reading);
    }

    private int fill() throws InterruptedException {
        for (int i = 1; i <= 4; i++) {
            assertThat(inbox.put(arrival(i, 1, A_MEBIBYTE))).isTrue();
        }
        return 4;
    }

    private CompletableFuture<Boolean> putBeside(Arrival arrival) {
        return CompletableFuture.supplyAsync(
                () -> {
                    try {
                        return inbox.put(arrival);
                    } catch (InterruptedException e) {
                        throw new AssertionError(e);
                    }
                });
    }

    @Test
    void full_waitsUntilOneIsTaken_andKeepsTheOrder() throws Exception {
        int waiting = fill();
        CompletableFuture<Boolean> one = putBeside(arrival(waiting + 1, 1, 1));
        assertThat(one).isNotDone();
        for (int i = 1; i <= waiting; i++) {
            assertThat(inbox.poll(0).packetId()).isEqualTo(i);
        }
        assertThat(one.get(10, SECONDS)).isTrue();
        assertThat(inbox.poll(0).packetId()).isEqualTo(waiting + 1);
        assertThat(inbox.poll(0)).isNull();
    }

    @Test
    void full_withTheConnectionLost_isLeftForTheNext() throws Exception {
        fill();
        connection.giveUp();
        assertThat(putBeside(arrival(5, 1, 1)).get(10, SECONDS)).isFalse();
        for (int i = 1; i <= 4; i++) {
            inbox.poll(0);
        }
        assertThat(inbox.poll(0)).isNull();
    }

    @Test
    void messageOfAnyLength_isPutWhenNothingElseWaits() throws Exception {
        assertThat(inbox.put(arrival(1, 1, 40 * A_MEBIBYTE))).isTrue();
        assertThat(inbox.poll(0).packetId()).isEqualTo(1);
    }

    @Test
    void readings_areDroppedBeyondSixtyFour_andTakeNoRoom() throws Exception {
        fill();
        for (int i = 0; i < 100; i++) {
            assertThat(inbox.put(arrival(0, 0, A_MEBIBYTE))).isTrue();
        }
        assertThat(inbox.droppedReadings()).isEqualTo(36);
    }
}
