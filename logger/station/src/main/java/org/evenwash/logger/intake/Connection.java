package org.evenwash.logger.intake;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
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
import org.evenwash.line.BrokerSockets;
import org.evenwash.logger.tls.Trust;
import org.evenwash.record.Topics;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * One connection to the broker, from connect to loss. A new client object serves each: the library's
 * own reconnect swallows errors and carries stale topic aliases over.
 */
final class Connection implements MqttCallback {
    /**
     * How long the broker keeps what comes while the station is away: 23 days. Artemis overflows above
     * 2,147,483 s and would forget everything at once.
     */
    static final long SESSION_EXPIRY_S = 2_000_000;

    /**
     * The same where stations share the intake: long enough to be started again and take up what was under
     * way. A station that is gone for good is dealt its share until then, and benches offer that again.
     */
    static final long SHARED_SESSION_EXPIRY_S = 60;

    /** Messages under way to us without acknowledgement: one batch is written while the next comes. */
    static final int RECEIVE_MAXIMUM = 2 * Intake.BATCH;

    /** Messages of ours under way: the receipts of two batches. */
    private static final int SEND_MAXIMUM = 200;

    /** MQTT 5: unspecified error. */
    private static final int NO_REASON_GIVEN = 0x80;

    static final int TIMEOUT_S = 10;

    /** The answer stands behind all that a resumed session sends first, and that has to be committed. */
    private static final int SUBSCRIBED_S = 60;

    private static final Logger LOG = LoggerFactory.getLogger(Connection.class);

    private final LineConfig config;
    private final Consumer<Arrival> arrivals;
    private final MqttAsyncClient client;
    private final BrokerSockets sockets;
    private final Semaphore underWay = new Semaphore(0);
    private final CountDownLatch lost = new CountDownLatch(1);
    private volatile boolean open;
    private volatile boolean subscribed;
    private volatile long lastArrival_ns = System.nanoTime();

    Connection(LineConfig config, Consumer<Arrival> arrivals) throws MqttException {
        this.config = config;
        this.arrivals = arrivals;
        this.sockets = sockets(config);
        this.client =
                new MqttAsyncClient(config.clientUrl(), config.clientId(), new MemoryPersistence());
        client.setManualAcks(true);
        client.setCallback(this);
    }

    private static BrokerSockets sockets(LineConfig config) {
        if (!config.isSecure()) {
            return BrokerSockets.plain();
        }
        return BrokerSockets.secure(
                config.trust() == null
                        ? (SSLSocketFactory) SSLSocketFactory.getDefault()
                        : Trust.in(config.trust()));
    }

    void connect() throws MqttException {
        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setCleanStart(false);
        options.setSessionExpiryInterval(
                config.share() == null ? SESSION_EXPIRY_S : SHARED_SESSION_EXPIRY_S);
        options.setReceiveMaximum(RECEIVE_MAXIMUM);
        options.setAutomaticReconnect(false);
        options.setConnectionTimeout(TIMEOUT_S);
        options.setKeepAliveInterval(30);
        if (config.user() != null) {
            options.setUserName(config.user());
            options.setPassword(config.password().getBytes(StandardCharsets.UTF_8));
        }
        options.setSocketFactory(sockets);
        IMqttToken token = client.connect(options);
        token.waitForCompletion(TIMEOUT_S * 1_000L);
        underWay.release(sendMaximum(token.getResponseProperties()));
        open = true;
    }

    void subscribe() throws MqttException {
        // What is subscribed last starts last: who is there is known before records pour in.
        subscribe(Topics.ofAllBenches(Topics.Kind.STATE), 1);
        subscribe(Topics.ofAllBenches(Topics.Kind.LIVE), 0);
        subscribe(shared(Topics.ofAllBenches(Topics.Kind.EVENT)), 1);
        subscribe(shared(Topics.ofAllBenches(Topics.Kind.CYCLE)), 1);
        if (config.share() != null) {
            leaveEarlierShare(config.share());
        }
        subscribed = true;
    }

    /** What was dealt to it stays in the session and comes. */
    private void leaveEarlierShare(Share share) throws MqttException {
        String[] filters = {
            share.earlierFilter(Topics.ofAllBenches(Topics.Kind.EVENT)),
            share.earlierFilter(Topics.ofAllBenches(Topics.Kind.CYCLE))
        };
        client.unsubscribe(filters).waitForCompletion(SUBSCRIBED_S * 1_000L);
    }

    /** One less than the broker takes at once, or the library throws 32202 "too many publishes". */
    private static int sendMaximum(MqttProperties answer) {
        Integer brokers = answer == null ? null : answer.getReceiveMaximum();
        return brokers == null ? SEND_MAXIMUM : Math.max(1, Math.min(SEND_MAXIMUM, brokers - 1));
    }

    private String shared(String filter) {
        return config.share() == null ? filter : config.share().filter(filter);
    }

    private void subscribe(String filter, int qos) throws MqttException {
        IMqttToken token = client.subscribe(new MqttSubscription(filter, qos));
        token.waitForCompletion(SUBSCRIBED_S * 1_000L);
        int[] codes = token.getReasonCodes();
        // The library calls a refused subscription a success; only the reason code tells.
        if (codes == null || codes.length != 1 || codes[0] > 2) {
            throw new MqttException(
                    codes == null || codes.length == 0 ? NO_REASON_GIVEN : codes[0]);
        }
    }

    boolean isOpen() {
        return open && client.isConnected();
    }

    /** Whether all that was asked for will come. */
    boolean isSubscribed() {
        return subscribed && isOpen();
    }

    void awaitLoss() throws InterruptedException {
        lost.await();
    }

    /**
     * Hands a message to the broker; false when it cannot be taken. Never called from a callback.
     *
     * @param patience_s for the broker's answers to what was published before; they stand behind all the
     *     messages that it is sending
     */
    boolean publish(String topic, byte[] payload, long expiry_s, int patience_s) {
        if (!isOpen()) {
            return false;
        }
        try {
            if (!underWay.tryAcquire(patience_s, TimeUnit.SECONDS)) {
                if (System.nanoTime() - lastArrival_ns > TimeUnit.SECONDS.toNanos(TIMEOUT_S)) {
                    LOG.warn("the broker takes no more messages; connecting anew");
                    giveUp();
                }
                return false;
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return false;
        }
        MqttMessage message = new MqttMessage(payload);
        message.setQos(1);
        if (expiry_s > 0) {
            MqttProperties properties = new MqttProperties();
            properties.setMessageExpiryInterval(expiry_s);
            message.setProperties(properties);
        }
        try {
            client.publish(topic, message, null, new Done());
            return true;
        } catch (MqttException | NullPointerException e) {
            underWay.release();
            LOG.info("not published on {}: {}", topic, e.getMessage());
            return false;
        }
    }

    /** Frees the place of a published message. That nobody listens is no error: the bench may be away. */
    private final class Done implements MqttActionListener {
        @Override
        public void onSuccess(IMqttToken token) {
            underWay.release();
        }

        @Override
        public void onFailure(IMqttToken token, Throwable cause) {
            underWay.release();
        }
    }

    /** Also before it is open: a resumed session sends at once, and counts what is not acknowledged. */
    void acknowledge(List<Arrival> arrivals) {
        if (isLost()) {
            return;
        }
        sockets.announce(arrivals.size());
        try {
            for (Arrival arrival : arrivals) {
                client.messageArrivedComplete(arrival.packetId(), arrival.qos());
            }
        } catch (MqttException | NullPointerException e) {
            // The connection went (a client that closes meanwhile throws the null pointer): the
            // broker delivers again, and the record is then a duplicate.
            sockets.withdraw();
            LOG.debug("not acknowledged: {}", e.getMessage());
        }
    }

    /** Read here, on the library's thread, while the intake writes what came before. */
    @Override
    public void messageArrived(String topic, MqttMessage message) {
        lastArrival_ns = System.nanoTime();
        Reading reading = Reader.read(topic, new Payload(message.getPayload()));
        arrivals.accept(new Arrival(this, message.getId(), message.getQos(), reading));
    }

    @Override
    public void disconnected(MqttDisconnectResponse response) {
        giveUp();
    }

    boolean isLost() {
        return lost.getCount() == 0;
    }

    /** Wakes {@link #awaitLoss}; whoever waits there closes. */
    void giveUp() {
        open = false;
        lost.countDown();
    }

    /** By one thread only: the library does not bear being closed by two. */
    void close() {
        giveUp();
        try {
            if (client.isConnected()) {
                client.disconnect(0).waitForCompletion(2_000);
            }
        } catch (MqttException e) {
            LOG.debug("disconnecting: {}", e.getMessage());
        }
        try {
            client.close(true);
        } catch (MqttException e) {
            LOG.debug("closing: {}", e.getMessage());
        }
    }

    @Override
    public void mqttErrorOccurred(MqttException exception) {
        LOG.info("MQTT: {}", exception.getMessage());
    }

    @Override
    public void deliveryComplete(IMqttToken token) {}

    @Override
    public void connectComplete(boolean reconnect, String serverUri) {}

    @Override
    public void authPacketArrived(int reasonCode, MqttProperties properties) {}
}
