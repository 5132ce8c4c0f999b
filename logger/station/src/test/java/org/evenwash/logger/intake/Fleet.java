package org.evenwash.logger.intake;

import java.net.URI;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Queue;
import java.util.UUID;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttActionListener;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttCallback;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.MqttDisconnectResponse;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;
import org.evenwash.record.Messages;
import org.evenwash.record.Receipt;
import org.evenwash.record.Topics;
import org.evenwash.record.UnreadableMessage;

/**
 * Many benches over one connection, each with an outbox: what is not released by a receipt with its own
 * hash is offered again, whatever became of it. One thread sends; it is the one that calls {@link #work}.
 */
final class Fleet implements MqttCallback, AutoCloseable {
    private static final int OFFERED_PER_BENCH = 20;
    private static final int UNDER_WAY = 100;
    private static final long OFFER_AGAIN_NS = Duration.ofSeconds(20).toNanos();

    // Released records come in any order, so each is found by its id.
    private final List<Outbox> outboxes = new ArrayList<>();
    private final Queue<Receipt> receipts = new ConcurrentLinkedQueue<>();
    private final Map<UUID, Outbox> ownerOf = new LinkedHashMap<>();
    private final Semaphore underWay = new Semaphore(UNDER_WAY);
    private final AtomicInteger offers = new AtomicInteger();
    private final MqttAsyncClient client;
    private int released;
    private int duplicates;

    private static final class Outbox {
        final String bench;
        final UUID id = UUID.randomUUID();
        final int records;
        final Map<UUID, Row> offered = new LinkedHashMap<>();
        int next = 1;

        Outbox(String bench, int records) {
            this.bench = bench;
            this.records = records;
        }
    }

    private static final class Row {
        final byte[] payload;
        final String sha256;
        long dueAt_ns = System.nanoTime();

        Row(byte[] payload) {
            this.payload = payload;
            this.sha256 = Messages.sha256(payload);
        }
    }

    Fleet(URI broker, List<String> benches, int recordsEach) throws MqttException {
        benches.forEach(bench -> outboxes.add(new Outbox(bench, recordsEach)));
        client =
                new MqttAsyncClient(
                        "tcp://" + broker.getHost() + ":" + broker.getPort(),
                        "fleet-" + UUID.randomUUID(),
                        new MemoryPersistence());
        client.setCallback(this);
        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setCleanStart(true);
        client.connect(options).waitForCompletion(30_000);
        for (String bench : benches) {
            client.subscribe(Topics.of(bench, Topics.Kind.RECEIPT), 1).waitForCompletion(30_000);
        }
    }

    /** Records that have their receipt. */
    int released() {
        return released;
    }

    /** Receipts that say the record was there already: it was offered twice. */
    int duplicates() {
        return duplicates;
    }

    /** How often a record was published. */
    int offers() {
        return offers.get();
    }

    /** Goes on until so many are released; false if none was for that long. */
    boolean work(int untilReleased, Duration patience) throws MqttException, InterruptedException {
        long lastRelease_ns = System.nanoTime();
        while (released < untilReleased) {
            int before = released;
            takeReceipts();
            for (Outbox outbox : outboxes) {
                offer(outbox);
            }
            if (released > before) {
                lastRelease_ns = System.nanoTime();
            } else if (System.nanoTime() - lastRelease_ns > patience.toNanos()) {
                return false;
            } else {
                TimeUnit.MILLISECONDS.sleep(2);
            }
        }
        return true;
    }

    private void takeReceipts() {
        for (Receipt receipt = receipts.poll(); receipt != null; receipt = receipts.poll()) {
            Outbox outbox = ownerOf.get(receipt.messageId());
            Row row = outbox == null ? null : outbox.offered.get(receipt.messageId());
            if (row != null && row.sha256.equals(receipt.sha256())) {
                outbox.offered.remove(receipt.messageId());
                ownerOf.remove(receipt.messageId());
                released++;
                if (receipt.result() == Receipt.Result.DUPLICATE) {
                    duplicates++;
                }
            }
        }
    }

    private void offer(Outbox outbox) throws MqttException {
        while (outbox.offered.size() < OFFERED_PER_BENCH && outbox.next <= outbox.records) {
            var record = Samples.fullCycle(outbox.bench, outbox.id, outbox.next++);
            outbox.offered.put(record.cycleId(), new Row(Messages.write(record)));
            ownerOf.put(record.cycleId(), outbox);
        }
        Deque<Row> due = new ArrayDeque<>();
        Iterator<Row> rows = outbox.offered.values().iterator();
        while (rows.hasNext()) {
            Row row = rows.next();
            if (row.dueAt_ns - System.nanoTime() <= 0) {
                due.add(row);
            }
        }
        for (Row row : due) {
            if (!underWay.tryAcquire()) {
                return;
            }
            row.dueAt_ns = System.nanoTime() + OFFER_AGAIN_NS;
            offers.incrementAndGet();
            client.publish(
                    Topics.of(outbox.bench, Topics.Kind.CYCLE),
                    row.payload,
                    1,
                    false,
                    null,
                    new Answered());
        }
    }

    private final class Answered implements MqttActionListener {
        @Override
        public void onSuccess(IMqttToken token) {
            underWay.release();
        }

        @Override
        public void onFailure(IMqttToken token, Throwable cause) {
            underWay.release();
        }
    }

    @Override
    public void messageArrived(String topic, MqttMessage message) throws UnreadableMessage {
        receipts.add(Messages.read(message.getPayload(), Receipt.class));
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
