package org.evenwash.controller.mqtt;

import java.time.Duration;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Supplier;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.evenwash.controller.config.Configuration.Broker;
import org.evenwash.controller.port.Unsent;
import org.evenwash.line.LineTrouble;
import org.evenwash.record.BenchState;
import org.evenwash.record.LiveReading;
import org.evenwash.record.Message;
import org.evenwash.record.Messages;
import org.evenwash.record.Topics;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The bench's side of the broker: one thread that connects, sends and hands on what comes in, and
 * begins anew with a fresh client whenever the connection is lost. Nothing here blocks the scan,
 * and no message that arrives can start motion: the kinds that are taken are tickets, commands and
 * receipts, and none of them has such a meaning.
 */
public final class BrokerLink implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(BrokerLink.class);

    /** Incoming messages on their way to this thread; one more is dropped, and the drop is told. */
    private static final int MOST_INCOMING = 1_024;

    private static final long LIVE_EVERY_MS = 250;
    private static final long STATE_AT_LEAST_EVERY_MS = 30_000;
    private static final Duration FAREWELL = Duration.ofSeconds(2);

    private final Broker broker;
    private final String benchId;
    private final boolean simulated;
    private final Mailing mailing;
    private final Supplier<BenchState> state;
    private final Receiver receiver;
    private final Backoff backoff = new Backoff();
    private final BlockingQueue<Incoming> incoming = new ArrayBlockingQueue<>(MOST_INCOMING);
    private final AtomicReference<LiveReading> live = new AtomicReference<>();
    private final Semaphore wake = new Semaphore(0);
    private final Thread thread = new Thread(this::work, "broker");

    private volatile boolean closing;
    private volatile boolean connected;
    private volatile String lastTrouble = "";

    /** What the bench does with a message; called on the link's thread, may wait. */
    public interface Receiver {
        void received(Topics.Kind kind, byte[] payload);
    }

    @SuppressWarnings("ArrayRecordComponent") // Handed on once, never compared.
    record Incoming(Topics.Kind kind, byte[] payload, Runnable acknowledge) {}

    /**
     * @param state how the bench stands now; asked for often, the same object while nothing changed
     */
    public BrokerLink(
            Broker broker,
            String benchId,
            boolean simulated,
            Unsent unsent,
            Supplier<BenchState> state,
            Receiver receiver) {
        this.broker = broker;
        this.benchId = benchId;
        this.simulated = simulated;
        this.mailing = new Mailing(unsent, benchId, this::wake);
        this.state = state;
        this.receiver = receiver;
        thread.setDaemon(true);
    }

    public BrokerLink start() {
        thread.start();
        return this;
    }

    public boolean connected() {
        return connected;
    }

    /** Why there is no connection, in words; empty before the first attempt has failed. */
    public String lastTrouble() {
        return lastTrouble;
    }

    /** There is something new to send or to say. Never blocks. */
    public void wake() {
        if (wake.availablePermits() == 0) {
            wake.release();
        }
    }

    /** Offers a reading; only the latest matters. Never blocks. */
    public void live(LiveReading reading) {
        live.set(reading);
    }

    /** A receipt came: the logger is there, so what waits need not wait longer. */
    public void receiptSeen() {
        mailing.receiptSeen();
    }

    private void work() {
        while (!closing) {
            long since_ms = now_ms();
            try (Connection connection = connect()) {
                connected = true;
                since_ms = now_ms();
                LOG.info("Connected to the broker at {}:{}.", broker.host(), broker.port());
                mailing.begin(connection.receiveMaximum());
                serve(connection);
            } catch (MqttException | TlsTrouble e) {
                told(e);
            } catch (InterruptedException e) {
                closing = true;
            } catch (RuntimeException e) {
                // The outbox could not be read, or the client failed in itself: neither may end
                // the link for good.
                LOG.warn("The link to the broker stumbled; connecting anew.", e);
            }
            Duration held = connected ? Duration.ofMillis(now_ms() - since_ms) : Duration.ZERO;
            connected = false;
            incoming.clear();
            if (!closing) {
                pause(backoff.next(held));
            }
        }
    }

    private Connection connect() throws MqttException, TlsTrouble {
        return Connection.open(
                broker,
                benchId,
                Messages.write(BenchState.offline(benchId, simulated)),
                this::arrived,
                this::wake);
    }

    /** On Paho's thread: must neither block nor throw, or the message is lost. */
    private void arrived(Incoming message) {
        if (!incoming.offer(message)) {
            LOG.warn("Too many messages at once: one {} was dropped.", message.kind());
        }
        wake();
    }

    private void serve(Connection connection) throws MqttException, InterruptedException {
        BenchState told = null;
        long toldAt_ms = 0;
        while (connection.alive() && !closing) {
            take();
            long now_ms = now_ms();
            BenchState now = state.get();
            if (!now.equals(told) || now_ms - toldAt_ms > STATE_AT_LEAST_EVERY_MS) {
                connection.publishRetained(
                        Topics.of(benchId, Topics.Kind.STATE), Messages.write(now));
                told = now;
                toldAt_ms = now_ms;
            }
            LiveReading reading = live.getAndSet(null);
            if (reading != null) {
                connection.publishOnce(
                        Topics.of(benchId, Topics.Kind.LIVE), Messages.write(reading));
            }
            mailing.send(connection, now_ms);
            if (wake.tryAcquire(LIVE_EVERY_MS, TimeUnit.MILLISECONDS)) {
                wake.drainPermits();
            }
        }
        if (connection.alive()) {
            Message gone = BenchState.offline(benchId, simulated);
            connection.publishRetained(Topics.of(benchId, Topics.Kind.STATE), Messages.write(gone));
        } else {
            LOG.warn("The connection to the broker is lost: {}.", connection.whyLost());
            lastTrouble = connection.whyLost();
        }
    }

    private void take() {
        for (Incoming message = incoming.poll(); message != null; message = incoming.poll()) {
            receiver.received(message.kind(), message.payload());
            message.acknowledge().run();
        }
    }

    /** The same trouble is told once, not at every attempt. */
    private void told(Exception e) {
        String trouble = LineTrouble.inWords(e);
        if (!trouble.equals(lastTrouble)) {
            LOG.warn(
                    "No connection to the broker at {}:{}: {}. The bench works on; its records wait.",
                    broker.host(),
                    broker.port(),
                    trouble);
        }
        lastTrouble = trouble;
    }

    private void pause(Duration length) {
        try {
            // Not the wake semaphore: new records are no reason to hammer an absent broker.
            TimeUnit.MILLISECONDS.sleep(length.toMillis());
        } catch (InterruptedException e) {
            closing = true;
        }
    }

    static long now_ms() {
        return TimeUnit.NANOSECONDS.toMillis(System.nanoTime());
    }

    /** Says OFFLINE if it still can, and ends the thread. */
    @Override
    public void close() {
        closing = true;
        wake();
        try {
            thread.join(FAREWELL.toMillis());
            thread.interrupt();
            thread.join(FAREWELL.toMillis());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
