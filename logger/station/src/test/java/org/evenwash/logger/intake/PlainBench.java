package org.evenwash.logger.intake;

import static java.util.concurrent.TimeUnit.SECONDS;
import static org.awaitility.Awaitility.await;

import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.CopyOnWriteArrayList;
import javax.net.ssl.SSLSocketFactory;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttCallback;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.MqttDisconnectResponse;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.Message;
import org.evenwash.record.Messages;
import org.evenwash.record.Receipt;
import org.evenwash.record.Ticket;
import org.evenwash.record.Topics;
import org.evenwash.record.UnreadableMessage;

/** The MQTT side of a bench and nothing else: says what it is told to, and writes down what it hears. */
public final class PlainBench implements MqttCallback, AutoCloseable {
    final String id;
    public final List<Receipt> receipts = new CopyOnWriteArrayList<>();
    public final List<Ticket> tickets = new CopyOnWriteArrayList<>();
    final List<BenchCommand> commands = new CopyOnWriteArrayList<>();
    private final MqttAsyncClient client;

    public PlainBench(URI broker, String id, String password) throws MqttException {
        this(broker, id, password, "evenwash-bench-" + id, null);
    }

    /**
     * @param trust authorities for {@code mqtts}, null for plain MQTT
     */
    PlainBench(URI broker, String id, String password, String clientId, SSLSocketFactory trust)
            throws MqttException {
        this(broker, id, password, clientId, trust, null, null);
    }

    /** Signs in and is gone without a word, so that the broker says {@code will} in its name. */
    static void vanish(URI broker, String id, String password, String topic, byte[] will)
            throws MqttException {
        String client = "evenwash-bench-" + id;
        new PlainBench(broker, id, password, client, null, topic, new MqttMessage(will)).close();
    }

    private PlainBench(
            URI broker,
            String id,
            String password,
            String clientId,
            SSLSocketFactory trust,
            String willTopic,
            MqttMessage will)
            throws MqttException {
        this.id = id;
        client =
                new MqttAsyncClient(
                        (trust == null ? "tcp://" : "ssl://")
                                + broker.getHost()
                                + ":"
                                + broker.getPort(),
                        clientId,
                        new MemoryPersistence());
        client.setCallback(this);
        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setCleanStart(true);
        options.setAutomaticReconnect(false);
        options.setConnectionTimeout(10);
        if (trust != null) {
            options.setSocketFactory(trust);
        }
        if (will != null) {
            options.setWill(willTopic, will);
        }
        if (password != null) {
            options.setUserName(id);
            options.setPassword(password.getBytes(StandardCharsets.UTF_8));
        }
        client.connect(options).waitForCompletion(10_000);
        for (Topics.Kind kind :
                List.of(Topics.Kind.TICKET, Topics.Kind.COMMAND, Topics.Kind.RECEIPT)) {
            client.subscribe(Topics.of(id, kind), 1).waitForCompletion(10_000);
        }
    }

    public void say(Topics.Kind kind, Message message) throws MqttException {
        say(Topics.of(id, kind), Messages.write(message), kind == Topics.Kind.STATE);
    }

    public void say(String topic, byte[] payload, boolean retained) throws MqttException {
        MqttMessage message = new MqttMessage(payload);
        message.setQos(1);
        message.setRetained(retained);
        client.publish(topic, message).waitForCompletion(10_000);
    }

    /** Reason code of a subscription. */
    int subscribe(String filter) throws MqttException {
        IMqttToken token = client.subscribe(filter, 1);
        token.waitForCompletion(10_000);
        return token.getReasonCodes()[0];
    }

    void unsubscribe(String filter) throws MqttException {
        client.unsubscribe(filter).waitForCompletion(10_000);
    }

    /** Reason code of a publication; the library calls even a refused one complete. */
    int reasonOf(String topic, byte[] payload) throws MqttException {
        MqttMessage message = new MqttMessage(payload);
        message.setQos(1);
        IMqttToken token = client.publish(topic, message);
        token.waitForCompletion(10_000);
        return token.getReasonCodes()[0];
    }

    boolean isConnected() {
        return client.isConnected();
    }

    public Receipt receiptFor(UUID messageId, int number) {
        await("receipt " + number + " for " + messageId)
                .atMost(20, SECONDS)
                .until(() -> receiptsFor(messageId).size() >= number);
        return receiptsFor(messageId).get(number - 1);
    }

    private List<Receipt> receiptsFor(UUID messageId) {
        return receipts.stream().filter(receipt -> receipt.messageId().equals(messageId)).toList();
    }

    @Override
    public void messageArrived(String topic, MqttMessage message) throws UnreadableMessage {
        byte[] payload = message.getPayload();
        switch (Topics.parse(topic).orElseThrow().kind()) {
            case RECEIPT -> receipts.add(Messages.read(payload, Receipt.class));
            case TICKET -> tickets.add(Messages.read(payload, Ticket.class));
            case COMMAND -> commands.add(Messages.read(payload, BenchCommand.class));
            case CYCLE, STATE, LIVE, EVENT -> throw new AssertionError(topic);
        }
    }

    @Override
    public void disconnected(MqttDisconnectResponse response) {}

    @Override
    public void mqttErrorOccurred(MqttException exception) {}

    @Override
    public void deliveryComplete(IMqttToken token) {}

    @Override
    public void connectComplete(boolean reconnect, String serverUri) {}

    @Override
    public void authPacketArrived(int reasonCode, MqttProperties properties) {}

    @Override
    public void close() throws MqttException {
        client.disconnectForcibly(0, 500, false);
        client.close(true);
    }
}
