package org.evenwash.controller.mqtt;

import java.util.HashMap;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.Semaphore;
import java.util.function.Consumer;
import org.eclipse.paho.mqttv5.client.MqttClientException;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.evenwash.controller.port.Unsent;
import org.evenwash.controller.port.Unsent.Letter;
import org.evenwash.record.Topics;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Which outbox message is sent when. A message leaves the outbox only on the logger's receipt, so
 * one that the broker took is not forgotten but sent again when no receipt came: soon if the broker
 * said that nobody listens, much later if it has passed it on, since it may only be queued for a
 * logger that is away. At most {@link #WINDOW} messages are under way without a receipt.
 */
final class Mailing {
    private static final Logger LOG = LoggerFactory.getLogger(Mailing.class);

    static final int WINDOW = 200;
    private static final int BATCH = 50;
    private static final int MOST_IN_FLIGHT = 64;
    private static final long UNHEARD_AGAIN_MS = 20_000;
    private static final long TAKEN_AGAIN_MS = 600_000;

    /** MQTT 5 section 3.4.2.1: accepted, but nobody had subscribed. */
    private static final int NO_MATCHING_SUBSCRIBERS = 16;

    private static final int SUCCESS = 0;

    private final Unsent unsent;
    private final String benchId;
    private final Runnable wake;

    /** When each message under way may be sent again. Touched by the link's thread alone. */
    private final Map<Long, Long> againAt_ms = new HashMap<>();

    private final Queue<Answer> answers = new ConcurrentLinkedQueue<>();
    private Semaphore inFlight = new Semaphore(0);
    private volatile boolean receiptSeen;
    private int lastTold = SUCCESS;

    private record Answer(long sequence, int reason) {}

    /** Where letters go: the broker behind one connection. */
    interface Postbox {
        /** At least once; {@code done} gets the broker's reason code, or -1 when it failed. */
        void publish(String topic, byte[] payload, Consumer<Integer> done) throws MqttException;
    }

    /**
     * @param wake called when an answer of the broker has come in
     */
    Mailing(Unsent unsent, String benchId, Runnable wake) {
        this.unsent = unsent;
        this.benchId = benchId;
        this.wake = wake;
    }

    /** A new connection: nothing is under way on it. */
    void begin(int receiveMaximum) {
        againAt_ms.clear();
        answers.clear();
        // One less than the broker allows: Paho counts a message as free later than we do.
        inFlight = new Semaphore(Math.max(1, Math.min(MOST_IN_FLIGHT, receiveMaximum - 1)));
    }

    void receiptSeen() {
        receiptSeen = true;
        wake.run();
    }

    /** Sends what is due. Called again and again; returns soon. */
    void send(Postbox postbox, long now_ms) throws MqttException {
        noteAnswers(now_ms);
        List<Letter> letters = unsent.after(0, WINDOW);
        forgetReleased(letters);
        int sent = 0;
        for (Letter letter : letters) {
            Long again_ms = againAt_ms.get(letter.sequence());
            boolean due = again_ms == null || now_ms >= again_ms;
            if (due && sent++ < BATCH && !sent(postbox, letter)) {
                return;
            }
        }
    }

    private boolean sent(Postbox postbox, Letter letter) throws MqttException {
        if (!inFlight.tryAcquire()) {
            return false;
        }
        Semaphore mine = inFlight;
        againAt_ms.put(letter.sequence(), Long.MAX_VALUE);
        try {
            postbox.publish(
                    Topics.of(benchId, letter.kind()),
                    letter.payload(),
                    reason -> {
                        mine.release();
                        answers.add(new Answer(letter.sequence(), reason));
                        wake.run();
                    });
            return true;
        } catch (MqttException e) {
            mine.release();
            againAt_ms.remove(letter.sequence());
            if (e.getReasonCode() == MqttClientException.REASON_CODE_MAX_INFLIGHT) {
                return false;
            }
            throw e;
        }
    }

    private void noteAnswers(long now_ms) {
        if (receiptSeen) {
            // The logger is there: what it has not confirmed may have been lost on the way.
            receiptSeen = false;
            againAt_ms.replaceAll(
                    (sequence, at_ms) ->
                            at_ms == Long.MAX_VALUE
                                    ? at_ms
                                    : Math.min(at_ms, now_ms + UNHEARD_AGAIN_MS));
        }
        for (Answer answer = answers.poll(); answer != null; answer = answers.poll()) {
            boolean taken = answer.reason() == SUCCESS;
            againAt_ms.put(answer.sequence(), now_ms + (taken ? TAKEN_AGAIN_MS : UNHEARD_AGAIN_MS));
            tell(answer.reason());
        }
    }

    private void tell(int reason) {
        if (reason == lastTold) {
            return;
        }
        lastTold = reason;
        if (reason == NO_MATCHING_SUBSCRIBERS) {
            LOG.info("The broker is there, but no logger listens yet. Records wait in the outbox.");
        } else if (reason > NO_MATCHING_SUBSCRIBERS) {
            LOG.warn(
                    "The broker refuses records of this bench (MQTT reason {}): check user and topic rules.",
                    reason);
        }
    }

    private void forgetReleased(List<Letter> letters) {
        if (againAt_ms.isEmpty()) {
            return;
        }
        Iterator<Long> sequences = againAt_ms.keySet().iterator();
        while (sequences.hasNext()) {
            long sequence = sequences.next();
            if (letters.stream().noneMatch(letter -> letter.sequence() == sequence)) {
                sequences.remove();
            }
        }
    }
}
