package org.evenwash.controller.mqtt;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import org.eclipse.paho.mqttv5.client.MqttClientException;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.evenwash.controller.port.Unsent.Letter;
import org.evenwash.record.Topics;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** When a letter goes again, by what the broker said to it; in virtual time. */
class MailingTest {
    private static final int NO_MATCHING_SUBSCRIBERS = 16;
    private static final int NOT_AUTHORIZED = 135;

    private final List<Letter> outbox = new ArrayList<>();
    private final List<Consumer<Integer>> underWay = new ArrayList<>();
    private final Mailing mailing =
            new Mailing((after, most) -> outbox.stream().limit(most).toList(), "bench-1", () -> {});
    private boolean full;

    @BeforeEach
    void begin() {
        mailing.begin(100);
        outbox.add(letter(1));
    }

    private static Letter letter(long sequence) {
        return new Letter(sequence, Topics.Kind.CYCLE, new byte[] {(byte) sequence});
    }

    /** Sends at this time; how many letters went. */
    private int sent(long now_ms) throws MqttException {
        int before = underWay.size();
        mailing.send(
                (topic, payload, done) -> {
                    if (full) {
                        throw new MqttException(MqttClientException.REASON_CODE_MAX_INFLIGHT);
                    }
                    underWay.add(done);
                },
                now_ms);
        return underWay.size() - before;
    }

    private void answered(int reason) {
        underWay.get(underWay.size() - 1).accept(reason);
    }

    @Test
    void nobodyListens_goesAgainAfterTwentySeconds() throws MqttException {
        assertThat(sent(0)).isEqualTo(1);
        assertThat(sent(1_000_000)).as("no answer yet").isZero();
        answered(NO_MATCHING_SUBSCRIBERS);
        assertThat(sent(1_000_000)).isZero();
        assertThat(sent(1_019_999)).isZero();
        assertThat(sent(1_020_000)).isEqualTo(1);
    }

    @Test
    void notAuthorized_stays_andGoesAgainAfterTwentySeconds() throws MqttException {
        sent(0);
        answered(NOT_AUTHORIZED);
        assertThat(sent(0)).isZero();
        assertThat(sent(20_000)).isEqualTo(1);
    }

    @Test
    void taken_goesAgainAfterTenMinutes_orSoonOnceTheLoggerIsHeard() throws MqttException {
        sent(0);
        answered(0);
        assertThat(sent(0)).isZero();
        assertThat(sent(599_999)).isZero();
        assertThat(sent(600_000)).isEqualTo(1);
        answered(0);
        sent(600_000);
        mailing.receiptSeen();
        assertThat(sent(601_000)).isZero();
        assertThat(sent(621_000)).isEqualTo(1);
    }

    @Test
    void receipted_isForgotten_andTheNextGoesAtOnce() throws MqttException {
        sent(0);
        answered(0);
        outbox.clear();
        outbox.add(letter(2));
        assertThat(sent(1)).isEqualTo(1);
    }

    @Test
    void noMoreUnderWayThanTheBrokerTakes() throws MqttException {
        mailing.begin(4);
        for (long sequence = 2; sequence <= 10; sequence++) {
            outbox.add(letter(sequence));
        }
        assertThat(sent(0)).isEqualTo(3);
        assertThat(sent(0)).isZero();
        answered(0);
        assertThat(sent(0)).isEqualTo(1);
    }

    @Test
    void clientThatIsFull_isTriedAgain() throws MqttException {
        full = true;
        assertThat(sent(0)).isZero();
        full = false;
        assertThat(sent(0)).isEqualTo(1);
    }

    @Test
    void newConnection_sendsEverythingAnew() throws MqttException {
        sent(0);
        mailing.begin(100);
        assertThat(sent(1)).isEqualTo(1);
    }
}
