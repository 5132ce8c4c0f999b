package org.evenwash.logger.intake;

import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.ThreadLocalRandom;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import org.eclipse.paho.mqttv5.common.MqttException;
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
    /**
     * Messages that wait. Mosquitto 2.0.11 ignores our receive maximum when it resumes a session and sends
     * all that it kept: what finds no place costs a new connection.
     */
    private static final int MOST_WAITING = 8_000;

    /** Bytes that wait: so many messages of the greatest length would not fit the memory. */
    private static final int MOST_WAITING_BYTES = 32 * 1024 * 1024;

    /** Readings that wait; more are dropped, since the next one says the same better. */
    private static final int MOST_WAITING_READINGS = 64;

    private static final long SHORTEST_PAUSE_MS = 250;
    private static final long LONGEST_PAUSE_MS = 15_000;
    private static final Logger LOG = LoggerFactory.getLogger(MqttLine.class);

    private final LineConfig config;
    private final BlockingQueue<Arrival> queue =
            new ArrayBlockingQueue<>(MOST_WAITING + MOST_WAITING_READINGS);
    private final AtomicInteger waiting_bytes = new AtomicInteger();
    private final AtomicInteger waitingReadings = new AtomicInteger();
    private final AtomicLong droppedReadings = new AtomicLong();
    private final Thread thread;
    private volatile Connection connection;
    private volatile boolean closed;
    private volatile boolean overflowed;
    private volatile boolean fetching;

    public MqttLine(LineConfig config) {
        this.config = config;
        this.thread = new Thread(this::keepUp, "mqtt-line");
    }

    public void start() {
        thread.start();
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
                try {
                    next.connect();
                    // Receipts go out from here on: a resumed session brings records at once.
                    connection = next;
                    next.subscribe();
                    pause_ms = SHORTEST_PAUSE_MS;
                    LOG.info("connected to the broker at {}", config.url());
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
                    LOG.warn("lost the broker at {}; trying again", config.url());
                }
            } catch (MqttException e) {
                LOG.warn(
                        "cannot reach the broker at {}: {}; trying again in {} ms",
                        config.url(),
                        e.getMessage(),
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

    /** On the library's thread: must not block. What is not queued is not acknowledged either. */
    private void take(Arrival arrival) {
        if (arrival.qos() == 0) {
            if (waitingReadings.incrementAndGet() > MOST_WAITING_READINGS
                    || !queue.offer(arrival)) {
                waitingReadings.decrementAndGet();
                droppedReadings.incrementAndGet();
            }
        } else {
            int size_bytes = arrival.payload().size_bytes();
            if (waiting_bytes.addAndGet(size_bytes) > MOST_WAITING_BYTES || !queue.offer(arrival)) {
                waiting_bytes.addAndGet(-size_bytes);
                overflowed = true;
            }
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
            LOG.info("the broker sent more than fits the queue; fetching the rest");
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
        Arrival arrival = queue.poll(wait_ms, TimeUnit.MILLISECONDS);
        if (arrival != null && arrival.qos() == 0) {
            waitingReadings.decrementAndGet();
        } else if (arrival != null) {
            waiting_bytes.addAndGet(-arrival.payload().size_bytes());
        }
        return arrival;
    }

    /** Live readings dropped because the database was slow. */
    public long droppedReadings() {
        return droppedReadings.get();
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

    /** A receipt that does not arrive is sent again when the bench offers its record again. */
    void send(String benchId, Receipt receipt) {
        publish(Topics.of(benchId, Topics.Kind.RECEIPT), Messages.write(receipt), 0);
    }

    private boolean publish(String topic, byte[] payload, long expiry_s) {
        Connection now = connection;
        return now != null && now.publish(topic, payload, expiry_s);
    }

    @Override
    public void close() {
        closed = true;
        Connection now = connection;
        if (now != null) {
            now.giveUp();
        }
        thread.interrupt();
        try {
            thread.join(10_000);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
