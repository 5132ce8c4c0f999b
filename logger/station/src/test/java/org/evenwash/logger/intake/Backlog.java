package org.evenwash.logger.intake;

import static java.util.concurrent.TimeUnit.SECONDS;

import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.Semaphore;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttActionListener;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.evenwash.record.Messages;
import org.evenwash.record.Topics;

/** Records of many benches that wait at a broker for whoever subscribed: what an intake is measured with. */
final class Backlog {
    static final int BENCHES = 50;
    private static final int UNDER_WAY = 100;

    private Backlog() {}

    /** Makes a session that keeps records while its client is away, as if that client had been there before. */
    static void subscribe(URI broker, String clientId, String group) throws MqttException {
        MqttAsyncClient client = connect(broker, clientId, null, null, false);
        String filter = Topics.ofAllBenches(Topics.Kind.CYCLE);
        client.subscribe(group == null ? filter : "$share/" + group + "/" + filter, 1)
                .waitForCompletion(10_000);
        client.disconnect().waitForCompletion(10_000);
        client.close();
    }

    /** Publishes as fast as the broker takes it; the user is asked for by an embedded broker only. */
    static void publish(URI broker, String user, String password, List<String> benches, int records)
            throws MqttException, InterruptedException {
        // An embedded broker knows a bench by its client id too.
        String clientId = user == null ? "load-" + UUID.randomUUID() : "evenwash-bench-" + user;
        MqttAsyncClient client = connect(broker, clientId, user, password, true);
        Semaphore underWay = new Semaphore(UNDER_WAY);
        List<UUID> outboxes = new ArrayList<>();
        benches.forEach(bench -> outboxes.add(UUID.randomUUID()));
        for (int i = 0; i < records; i++) {
            int bench = i % benches.size();
            byte[] payload =
                    Messages.write(
                            Samples.fullCycle(
                                    benches.get(bench),
                                    outboxes.get(bench),
                                    1 + i / benches.size()));
            underWay.acquire();
            client.publish(
                    Topics.of(benches.get(bench), Topics.Kind.CYCLE),
                    payload,
                    1,
                    false,
                    null,
                    new Release(underWay));
        }
        if (!underWay.tryAcquire(UNDER_WAY, 60, SECONDS)) {
            throw new AssertionError("the broker never took the last records");
        }
        client.disconnect().waitForCompletion(10_000);
        client.close();
    }

    static List<String> benches() {
        List<String> benches = new ArrayList<>();
        for (int i = 1; i <= BENCHES; i++) {
            benches.add("bench-" + i);
        }
        return benches;
    }

    private static MqttAsyncClient connect(
            URI broker, String clientId, String user, String password, boolean clean)
            throws MqttException {
        MqttAsyncClient client =
                new MqttAsyncClient(
                        "tcp://" + broker.getHost() + ":" + broker.getPort(),
                        clientId,
                        new MemoryPersistence());
        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setCleanStart(clean);
        if (!clean) {
            options.setSessionExpiryInterval(Connection.SESSION_EXPIRY_S);
        }
        if (user != null) {
            options.setUserName(user);
            options.setPassword(password.getBytes(StandardCharsets.UTF_8));
        }
        client.connect(options).waitForCompletion(10_000);
        return client;
    }

    private record Release(Semaphore underWay) implements MqttActionListener {
        @Override
        public void onSuccess(IMqttToken token) {
            underWay.release();
        }

        @Override
        public void onFailure(IMqttToken token, Throwable cause) {
            throw new IllegalStateException("not published", cause);
        }
    }
}
