package org.evenwash.controller.mqtt;

import java.util.Optional;
import java.util.function.Consumer;
import javax.net.ssl.SSLSocketFactory;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttActionListener;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttCallback;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.MqttDisconnectResponse;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.MqttSubscription;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;
import org.evenwash.controller.config.Configuration.Broker;
import org.evenwash.controller.mqtt.BrokerLink.Incoming;
import org.evenwash.line.BrokerSockets;
import org.evenwash.record.Messages;
import org.evenwash.record.PlainText;
import org.evenwash.record.Topics;

/**
 * One connection, with a client object of its own: Paho's own reconnecting keeps topic aliases that
 * the broker has forgotten. Acknowledgements are given by hand, on this connection only, after the
 * bench has dealt with the message.
 */
final class Connection implements Mailing.Postbox, AutoCloseable {
    private static final int TIMEOUT_S = 10;
    private static final int KEEP_ALIVE_S = 15;
    private static final long TIMEOUT_MS = TIMEOUT_S * 1_000L;

    /** What MQTT 5 assumes when the broker does not say (section 3.2.2.3.3). */
    private static final int DEFAULT_RECEIVE_MAXIMUM = 65_535;

    private static final Topics.Kind[] TAKEN = {
        Topics.Kind.TICKET, Topics.Kind.COMMAND, Topics.Kind.RECEIPT
    };

    private final MqttAsyncClient client;
    private final String benchId;
    private int receiveMaximum = DEFAULT_RECEIVE_MAXIMUM;
    private volatile String lost;
    private volatile boolean closed;

    private Connection(MqttAsyncClient client, String benchId) {
        this.client = client;
        this.benchId = benchId;
    }

    static Connection open(
            Broker broker,
            String benchId,
            byte[] lastWill,
            Consumer<Incoming> arrived,
            Runnable lostNotice)
            throws MqttException, TlsTrouble {
        MqttConnectionOptions options = options(broker, benchId, lastWill);
        MqttAsyncClient client =
                new MqttAsyncClient(
                        // TLS, where it is asked for, is the business of the sockets.
                        "tcp://" + broker.host() + ":" + broker.port(),
                        "evenwash-bench-" + benchId,
                        new MemoryPersistence());
        Connection connection = new Connection(client, benchId);
        // Before connect, both: what arrives in between would be acknowledged unseen.
        client.setManualAcks(true);
        client.setCallback(connection.new Arrivals(arrived, lostNotice));
        try {
            IMqttToken connected = client.connect(options);
            connected.waitForCompletion(TIMEOUT_MS);
            MqttProperties properties = connected.getResponseProperties();
            if (properties != null && properties.getReceiveMaximum() != null) {
                connection.receiveMaximum = properties.getReceiveMaximum();
            }
            connection.subscribe();
            return connection;
        } catch (MqttException e) {
            connection.close();
            throw e;
        }
    }

    private static MqttConnectionOptions options(Broker broker, String benchId, byte[] lastWill)
            throws TlsTrouble {
        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setCleanStart(true);
        options.setAutomaticReconnect(false);
        options.setConnectionTimeout(TIMEOUT_S);
        options.setKeepAliveInterval(KEEP_ALIVE_S);
        options.setMaximumPacketSize(Messages.MOST_BYTES + 1_024L);
        if (!broker.user().isEmpty()) {
            options.setUserName(broker.user());
        }
        Optional<byte[]> password = Optional.empty();
        if (broker.passwordFile().isPresent()) {
            password = Optional.of(Credentials.password(broker.passwordFile().get()));
        }
        password.ifPresent(options::setPassword);
        options.setSocketFactory(sockets(broker));
        MqttMessage will = new MqttMessage(lastWill);
        will.setQos(1);
        will.setRetained(true);
        options.setWill(Topics.of(benchId, Topics.Kind.STATE), will);
        return options;
    }

    private static BrokerSockets sockets(Broker broker) throws TlsTrouble {
        if (!broker.tls()) {
            return BrokerSockets.plain();
        }
        return BrokerSockets.secure(
                broker.caFile().isPresent()
                        ? Credentials.trusting(broker.caFile().get())
                        : (SSLSocketFactory) SSLSocketFactory.getDefault());
    }

    private void subscribe() throws MqttException {
        MqttSubscription[] subscriptions = new MqttSubscription[TAKEN.length];
        for (int i = 0; i < TAKEN.length; i++) {
            subscriptions[i] = new MqttSubscription(Topics.of(benchId, TAKEN[i]), 1);
            // Never send what was retained (2), and mark what is published as retained.
            subscriptions[i].setRetainHandling(2);
            subscriptions[i].setRetainAsPublished(true);
        }
        IMqttToken token = client.subscribe(subscriptions);
        token.waitForCompletion(TIMEOUT_MS);
        for (int reason : token.getReasonCodes()) {
            if (reason >= 0x80) {
                throw new MqttException(reason);
            }
        }
    }

    /** How many QoS 1 messages the broker takes before it has acknowledged one. */
    int receiveMaximum() {
        return receiveMaximum;
    }

    boolean alive() {
        return lost == null && !closed && client.isConnected();
    }

    /** In words that may be the broker's. */
    String whyLost() {
        return lost == null ? "closed" : PlainText.of(lost);
    }

    @Override
    public void publish(String topic, byte[] payload, Consumer<Integer> done) throws MqttException {
        MqttMessage message = new MqttMessage(payload);
        message.setQos(1);
        client.publish(topic, message, null, new Outcome(done));
    }

    void publishRetained(String topic, byte[] payload) throws MqttException {
        MqttMessage message = new MqttMessage(payload);
        message.setQos(1);
        message.setRetained(true);
        client.publish(topic, message).waitForCompletion(TIMEOUT_MS);
    }

    /** At most once. */
    void publishOnce(String topic, byte[] payload) throws MqttException {
        MqttMessage message = new MqttMessage(payload);
        message.setQos(0);
        client.publish(topic, message);
    }

    @Override
    public void close() {
        if (closed) {
            return;
        }
        closed = true;
        try {
            if (client.isConnected()) {
                client.disconnect(1_000).waitForCompletion(2_000);
            }
        } catch (MqttException e) {
            lost = e.getMessage();
        }
        try {
            client.disconnectForcibly(0, 0, false);
        } catch (MqttException e) {
            // Already gone, which is what was wanted; the reason is kept for whyLost().
            lost = lost == null ? e.getMessage() : lost;
        }
        try {
            client.close(true);
        } catch (MqttException e) {
            lost = lost == null ? e.getMessage() : lost;
        }
    }

    /** A PUBACK with an error still counts as success to Paho: only the reason code tells. */
    private record Outcome(Consumer<Integer> done) implements MqttActionListener {
        @Override
        public void onSuccess(IMqttToken token) {
            int[] reasons = token.getReasonCodes();
            done.accept(reasons == null || reasons.length == 0 ? 0 : reasons[0]);
        }

        @Override
        public void onFailure(IMqttToken token, Throwable exception) {
            done.accept(-1);
        }
    }

    /** Only hands on: Paho swallows what is thrown here, and what blocks here deadlocks. */
    private final class Arrivals implements MqttCallback {
        private final Consumer<Incoming> arrived;
        private final Runnable lostNotice;

        Arrivals(Consumer<Incoming> arrived, Runnable lostNotice) {
            this.arrived = arrived;
            this.lostNotice = lostNotice;
        }

        @Override
        public void messageArrived(String topic, MqttMessage message) {
            int id = message.getId();
            int qos = message.getQos();
            Optional<Topics.Address> address = Topics.parse(topic);
            boolean ours =
                    address.isPresent()
                            && address.get().benchId().equals(benchId)
                            && !address.get().kind().writtenByBench();
            // A retained message is an old one: it may never reach the bench.
            if (!ours || message.isRetained()) {
                acknowledge(id, qos);
                return;
            }
            arrived.accept(
                    new Incoming(
                            address.get().kind(),
                            message.getPayload(),
                            () -> acknowledge(id, qos)));
        }

        /** After the end there is nobody to tell, and Paho's closed client would throw at it. */
        private void acknowledge(int id, int qos) {
            if (closed) {
                return;
            }
            try {
                client.messageArrivedComplete(id, qos);
            } catch (MqttException e) {
                lost = e.getMessage();
            }
        }

        @Override
        public void disconnected(MqttDisconnectResponse response) {
            String reason = response.getReasonString();
            lost =
                    reason != null
                            ? reason
                            : response.getException() != null
                                    ? String.valueOf(response.getException().getMessage())
                                    : "code " + response.getReturnCode();
            lostNotice.run();
        }

        @Override
        public void mqttErrorOccurred(MqttException exception) {
            lost = exception.getMessage();
            lostNotice.run();
        }

        @Override
        public void deliveryComplete(IMqttToken token) {
            // The listener of each publish is told; see Outcome.
        }

        @Override
        public void connectComplete(boolean reconnect, String serverUri) {
            // The thread that connects waits for it itself.
        }

        @Override
        public void authPacketArrived(int reasonCode, MqttProperties properties) {
            lost = "the broker asks for an extended log-in, which this program does not know";
            lostNotice.run();
        }
    }
}
