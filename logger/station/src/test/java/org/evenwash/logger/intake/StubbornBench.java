package org.evenwash.logger.intake;

import java.net.URI;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.TimeUnit;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.evenwash.record.Messages;
import org.evenwash.record.Receipt;
import org.evenwash.record.Topics;

/**
 * Offers its records over and over until each has a receipt with its own hash, whatever happens to
 * broker and station meanwhile. What an outbox does, without the disk.
 */
final class StubbornBench implements AutoCloseable {
    private final URI broker;
    private final String id;
    private final String password;
    private final Map<UUID, byte[]> unreceipted = new LinkedHashMap<>();
    private PlainBench line;

    StubbornBench(URI broker, String id, String password, int records) {
        this.broker = broker;
        this.id = id;
        this.password = password;
        UUID outbox = UUID.randomUUID();
        for (int sequence = 1; sequence <= records; sequence++) {
            UUID cycle = UUID.randomUUID();
            unreceipted.put(cycle, Messages.write(Samples.cycle(id, cycle, outbox, sequence)));
        }
    }

    int left() {
        return unreceipted.size();
    }

    /** Offers everything once more, and takes what receipts came; a lost line is made anew next time. */
    void offer(int most) {
        try {
            if (line == null) {
                line = new PlainBench(broker, id, password);
            }
            List<UUID> offered = new ArrayList<>(unreceipted.keySet());
            for (UUID cycle : offered.subList(0, Math.min(most, offered.size()))) {
                line.say(Topics.of(id, Topics.Kind.CYCLE), unreceipted.get(cycle), false);
            }
        } catch (MqttException away) {
            drop();
        }
        release();
    }

    private void release() {
        if (line == null) {
            return;
        }
        for (Receipt receipt : line.receipts) {
            byte[] payload = unreceipted.get(receipt.messageId());
            if (payload != null && Messages.sha256(payload).equals(receipt.sha256())) {
                unreceipted.remove(receipt.messageId());
            }
        }
    }

    /** Waits for receipts that are under way, then takes them. */
    void listen(long most_ms) {
        long deadline = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(most_ms);
        while (line != null && left() > 0 && System.nanoTime() < deadline) {
            Thread.onSpinWait();
            release();
        }
    }

    private void drop() {
        if (line != null) {
            try {
                line.close();
            } catch (MqttException gone) {
                line = null;
                return;
            }
        }
        line = null;
    }

    @Override
    public void close() {
        drop();
    }
}
