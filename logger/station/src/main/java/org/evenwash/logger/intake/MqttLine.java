package org.evenwash.logger.intake;

import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.ThreadLocalRandom;
import java.util.concurrent.TimeUnit;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.evenwash.line.LineTrouble;
import org.evenwash.logger.wash.BenchLink;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.Messages;
import org.evenwash.record.Receipt;
import org.evenwash.record.Ticket;
import org.evenwash.record.Topics;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** The line to the broker: kept up by a thread of its own, read through a bounded queue. */
public final class MqttLine implements BenchLink, AutoCloseable {
    /** Receipts that wait; what finds no place is sent when the bench offers its record again. */
    private static final int MOST_RECEIPTS = 50_000;

    /** Receipts are answered behind a whole backlog. */
    private static final int PATIENCE_WITH_RECEIPTS_S = 120;

    private static final int LAST_RECEIPTS_MS = 2_000;
    private static final int LONGEST_END_MS = 10_000;
    private static final long SHORTEST_PAUSE_MS = 250;
    private static final long LONGEST_PAUSE_MS = 15_000;
    private static final Logger LOG = LoggerFactory.getLogger(MqttLine.class);

    private final LineConfig config;
    private final Inbox inbox = new Inbox();
    private final BlockingQueue<Addressed> receipts = new LinkedBlockingQueue<>(MOST_RECEIPTS);
    private final Thread receiptsThread;
    private final Thread thread;
    private volatile Connection connection;
    private volatile boolean closed;
    private volatile boolean overflowed;
    private volatile boolean fetching;

    public MqttLine(LineConfig config) {
        this.config = config;
        this.thread = new Thread(this::keepUp, "mqtt-line");
        this.receiptsThread = new Thread(this::sendReceipts, "receipts");
    }

    private record Addressed(String benchId, Receipt receipt) {}

    public void start() {
        thread.start();
        receiptsThread.start();
    }

    /** Whether the broker is reached now. */
    public boolean isUp() {
        Connection now = connection;
        return now != null && now.isSubscribed();
    }

    private void keepUp() {
        long pause_ms = SHORTEST_PAUSE_MS;
        while (!closed) {
            try {
                Connection next = new Connection(config, this::take);
                overflowed = false;
                try {
                    next.connect();
                    // Receipts go out from here on: a resumed session brings records at once.
                    connection = next;
                    next.subscribe();
                    pause_ms = SHORTEST_PAUSE_MS;
                    LOG.info("connected to the broker at {}", config.address());
                    next.awaitLoss();
                } finally {
                    connection = null;
                    next.close();
                }
                if (fetching) {
                    fetching = false;
                    continue;
                }
                if (!closed) {
                    LOG.warn("lost the broker at {}; trying again", config.address());
                }
            } catch (MqttException e) {
                LOG.warn(
                        "cannot reach the broker at {}: {}; trying again in {} ms",
                        config.address(),
                        LineTrouble.inWords(e),
                        pause_ms);
            } catch (RuntimeException e) {
                // The client library throws some of its own mistakes; they must not end the line.
                LOG.warn("the MQTT client failed; connecting anew", e);
            } catch (InterruptedException e) {
                // Only close() interrupts; the loop's condition ends it.
                continue;
            }
            pause(pause_ms + ThreadLocalRandom.current().nextLong(pause_ms / 4 + 1));
            pause_ms = Math.min(2 * pause_ms, LONGEST_PAUSE_MS);
        }
    }

    private void pause(long time_ms) {
        try {
            if (!closed) {
                TimeUnit.MILLISECONDS.sleep(time_ms);
            }
        } catch (InterruptedException e) {
            LOG.debug("woken to close");
        }
    }

    /** On the library's thread. What is not kept here is not acknowledged either. */
    private void take(Arrival arrival) {
        try {
            boolean isKept = !overflowed && inbox.put(arrival);
            // What a lost connection brought comes again on the next by itself.
            if (!isKept && arrival.qos() > 0 && !arrival.connection().isLost()) {
                overflowed = true;
            }
        } catch (InterruptedException e) {
            overflowed = true;
            Thread.currentThread().interrupt();
        }
    }

    /**
     * Called when all that was queued is done: what found no place was not acknowledged, and the broker
     * delivers it again on the next connection. Doing so earlier would lose the acknowledgements of what
     * is queued, and the same flood would come again.
     */
    void fetchWhatWasLeft() {
        if (overflowed) {
            overflowed = false;
            LOG.info("more came than could be taken in; fetching the rest");
            fetching = connection != null;
            connectAnew();
        }
    }

    /** There is something to fetch once all that was queued is done. */
    boolean leftSome() {
        return overflowed;
    }

    /** Everything unacknowledged is delivered again. */
    void connectAnew() {
        Connection now = connection;
        if (now != null) {
            now.giveUp();
        }
    }

    /** The next message, or null when none came in that time. */
    Arrival poll(long wait_ms) throws InterruptedException {
        return inbox.poll(wait_ms);
    }

    /** Live readings dropped because the database was slow. */
    public long droppedReadings() {
        return inbox.droppedReadings();
    }

    @Override
    public void send(Ticket ticket) {
        publish(Topics.of(ticket.benchId(), Topics.Kind.TICKET), Messages.write(ticket), 0);
    }

    @Override
    public boolean send(BenchCommand command) {
        return publish(
                Topics.of(command.benchId(), Topics.Kind.COMMAND),
                Messages.write(command),
                command.expiry_s());
    }

    /**
     * Sent by a thread of its own: the broker answers behind all that it is sending, and the intake must not
     * wait for that. A receipt that is lost is sent again when the bench offers its record again.
     */
    void send(String benchId, Receipt receipt) {
        if (!receipts.offer(new Addressed(benchId, receipt))) {
            LOG.debug("a receipt for bench {} found no place", benchId);
        }
    }

    private void sendReceipts() {
        try {
            while (!(closed && receipts.isEmpty())) {
                Addressed next = receipts.poll(100, TimeUnit.MILLISECONDS);
                Connection now = connection;
                if (next != null && now != null) {
                    send(next, now);
                }
            }
        } catch (InterruptedException e) {
            LOG.debug("closed with {} receipts unsent", receipts.size());
        }
    }

    private static void send(Addressed next, Connection now) {
        try {
            now.publish(
                    Topics.of(next.benchId(), Topics.Kind.RECEIPT),
                    Messages.write(next.receipt()),
                    0,
                    PATIENCE_WITH_RECEIPTS_S);
        } catch (RuntimeException e) {
            // The client library throws some of its own mistakes; the receipts behind must go on.
            LOG.warn("a receipt for bench {} was not sent", next.benchId(), e);
        }
    }

    private boolean publish(String topic, byte[] payload, long expiry_s) {
        Connection now = connection;
        return now != null && now.publish(topic, payload, expiry_s, Connection.TIMEOUT_S);
    }

    @Override
    public void close() {
        closed = true;
        end(receiptsThread, LAST_RECEIPTS_MS);
        Connection now = connection;
        if (now != null) {
            now.giveUp();
        }
        thread.interrupt();
        end(thread, LONGEST_END_MS);
    }

    private static void end(Thread thread, int patience_ms) {
        try {
            thread.join(patience_ms);
            thread.interrupt();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
