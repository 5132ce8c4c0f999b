package org.evenwash.controller;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Queue;
import java.util.UUID;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.function.Predicate;
import org.awaitility.Awaitility;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttCallback;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.MqttDisconnectResponse;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.MqttSubscription;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.BenchState;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.LiveReading;
import org.evenwash.record.Message;
import org.evenwash.record.Messages;
import org.evenwash.record.Receipt;
import org.evenwash.record.Topics;
import org.evenwash.record.UnreadableMessage;

/** The other end of the contract, as small as a test needs it. */
final class LoggerStandIn implements AutoCloseable {
    private static final long TIMEOUT_MS = 5_000;

    private final String benchId;
    private final boolean gives;
    private final MqttAsyncClient client;
    private final Queue<Arrived> arrived = new ConcurrentLinkedQueue<>();

    record Arrived(Topics.Kind kind, MqttMessage message) {}

    /**
     * @param gives whether it answers records and events with receipts
     */
    LoggerStandIn(int port, String benchId, boolean gives) throws MqttException {
        this.benchId = benchId;
        this.gives = gives;
        client =
                new MqttAsyncClient("tcp://127.0.0.1:" + port, "stand-in", new MemoryPersistence());
        client.setCallback(new Arrivals());
        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setAutomaticReconnect(false);
        client.connect(options).waitForCompletion(TIMEOUT_MS);
        MqttSubscription all = new MqttSubscription("evenwash/v1/" + benchId + "/#", 1);
        all.setNoLocal(true);
        client.subscribe(all).waitForCompletion(TIMEOUT_MS);
    }

    void send(Topics.Kind kind, Message message) throws MqttException {
        send(kind, Messages.write(message), false);
    }

    void send(Topics.Kind kind, byte[] payload, boolean retained) throws MqttException {
        MqttMessage message = new MqttMessage(payload);
        message.setQos(1);
        message.setRetained(retained);
        client.publish(Topics.of(benchId, kind), message).waitForCompletion(TIMEOUT_MS);
    }

    List<CycleRecord> cycles() {
        return all(Topics.Kind.CYCLE, CycleRecord.class);
    }

    List<BenchEvent> events() {
        return all(Topics.Kind.EVENT, BenchEvent.class);
    }

    List<BenchState> states() {
        return all(Topics.Kind.STATE, BenchState.class);
    }

    List<LiveReading> live() {
        return all(Topics.Kind.LIVE, LiveReading.class);
    }

    /** The text of the first event of this kind, waited for. */
    String textOf(BenchEvent.Kind kind) {
        await(logger -> logger.events().stream().anyMatch(e -> e.kind() == kind));
        return events().stream()
                .filter(e -> e.kind() == kind)
                .map(BenchEvent::text)
                .findFirst()
                .orElseThrow();
    }

    void await(Predicate<LoggerStandIn> wanted) {
        Awaitility.await()
                .atMost(Duration.ofSeconds(30))
                .pollInterval(Duration.ofMillis(20))
                .until(() -> wanted.test(this));
    }

    private <T extends Message> List<T> all(Topics.Kind kind, Class<T> type) {
        List<T> messages = new ArrayList<>();
        for (Arrived one : arrived) {
            if (one.kind() == kind) {
                try {
                    messages.add(Messages.read(one.message().getPayload(), type));
                } catch (UnreadableMessage e) {
                    throw new AssertionError(
                            new String(one.message().getPayload(), StandardCharsets.UTF_8), e);
                }
            }
        }
        return messages;
    }

    /** Payloads of this kind as they came. */
    List<byte[]> payloads(Topics.Kind kind) {
        return arrived.stream()
                .filter(one -> one.kind() == kind)
                .map(one -> one.message().getPayload())
                .toList();
    }

    @Override
    public void close() throws MqttException {
        client.disconnectForcibly(0, 100, false);
        client.close(true);
    }

    private final class Arrivals implements MqttCallback {
        @Override
        public void messageArrived(String topic, MqttMessage message) throws Exception {
            Topics.Kind kind = Topics.parse(topic).orElseThrow().kind();
            arrived.add(new Arrived(kind, message));
            if (gives && kind == Topics.Kind.CYCLE) {
                receipt(Messages.read(message.getPayload(), CycleRecord.class).cycleId(), message);
            } else if (gives && kind == Topics.Kind.EVENT) {
                receipt(Messages.read(message.getPayload(), BenchEvent.class).eventId(), message);
            }
        }

        private void receipt(UUID id, MqttMessage message) throws MqttException {
            Receipt receipt =
                    new Receipt(
                            Receipt.SCHEMA,
                            id,
                            Messages.sha256(message.getPayload()),
                            Receipt.Result.STORED,
                            null);
            MqttMessage answer = new MqttMessage(Messages.write(receipt));
            answer.setQos(1);
            // Not waited for: waiting in a callback would block Paho.
            client.publish(Topics.of(benchId, Topics.Kind.RECEIPT), answer);
        }

        @Override
        public void disconnected(MqttDisconnectResponse response) {
            // A test that kills the broker makes a new stand-in.
        }

        @Override
        public void mqttErrorOccurred(MqttException exception) {
            throw new AssertionError(exception);
        }

        @Override
        public void deliveryComplete(IMqttToken token) {
            // Sends wait for their own tokens.
        }

        @Override
        public void connectComplete(boolean reconnect, String serverUri) {
            // The constructor waits for it.
        }

        @Override
        public void authPacketArrived(int reasonCode, MqttProperties properties) {
            throw new AssertionError("no log-in of that kind is used here");
        }
    }
}
