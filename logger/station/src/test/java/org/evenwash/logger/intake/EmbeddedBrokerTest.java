package org.evenwash.logger.intake;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.junit.jupiter.api.Assumptions.assumeFalse;

import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import java.util.UUID;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.evenwash.logger.Station;
import org.evenwash.logger.StationConfig;
import org.evenwash.logger.StationTrouble;
import org.evenwash.logger.TestDatabase;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.wash.By;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Messages;
import org.evenwash.record.Receipt;
import org.evenwash.record.Topics;
import org.junit.jupiter.api.Test;

class EmbeddedBrokerTest extends IntakeStories {
    /** MQTT 5 reason code: not authorised. */
    private static final int NOT_AUTHORISED = 0x87;

    @Override
    StationConfig config(Path data) {
        return StationConfig.inFolder(data.resolve("data"))
                .withDatabase(TestDatabase.in(data, "logger"));
    }

    /** Admitted once each: whoever is admitted anew is cut off within a second, under the old password or the new. */
    private final Map<String, String> passwords = new HashMap<>();

    @Override
    String password(String benchId) {
        return passwords.computeIfAbsent(
                benchId, id -> work.benches().admit(id, "Bench " + id, true, By.nobody()));
    }

    @Test
    void benchCannotReadOrWriteAnothersTopics() throws Exception {
        password("other-bench");

        for (String filter :
                new String[] {
                    "#",
                    "evenwash/v1/+/cycle",
                    "evenwash/v1/other-bench/ticket",
                    Topics.of(benchId, Topics.Kind.CYCLE),
                    "evenwash/v1/+/receipt"
                }) {
            assertThat(bench.subscribe(filter)).as(filter).isEqualTo(NOT_AUTHORISED);
        }
    }

    @Test
    void recordOnAnothersTopic_neverReachesTheDatabase() throws Exception {
        String password = password("other-bench");
        CycleRecord forged = Samples.cycle("other-bench", UUID.randomUUID(), outbox, 1);

        for (String topic :
                new String[] {
                    "evenwash/v1/other-bench/cycle",
                    "evenwash.v1.other-bench.cycle",
                    Topics.of(benchId, Topics.Kind.TICKET)
                }) {
            try (PlainBench intruder =
                    new PlainBench(station.brokerAddress(), benchId, password(benchId))) {
                int reason = refusal(intruder, topic, Messages.write(forged));
                assertThat(reason).as(topic).isEqualTo(NOT_AUTHORISED);
            }
        }

        try (PlainBench honest = new PlainBench(station.brokerAddress(), "other-bench", password)) {
            CycleRecord own = Samples.cycle("other-bench", UUID.randomUUID(), outbox, 2);
            honest.say(Topics.Kind.CYCLE, own);
            honest.receiptFor(own.cycleId(), 1);
        }
        assertThat(work.cycles().list("other-bench", Page.first(9)).rows()).hasSize(1);
    }

    /** The broker answers with a reason code, or drops the connection, as its settings are. */
    private static int refusal(PlainBench bench, String topic, byte[] payload) {
        try {
            return bench.reasonOf(topic, payload);
        } catch (MqttException dropped) {
            return NOT_AUTHORISED;
        }
    }

    @Test
    void wrongOrMissingPassword_isNotLetIn() {
        assertThatThrownBy(() -> new PlainBench(station.brokerAddress(), benchId, "guess"))
                .isInstanceOf(MqttException.class);
        assertThatThrownBy(() -> new PlainBench(station.brokerAddress(), benchId, null))
                .isInstanceOf(MqttException.class);
        assertThatThrownBy(() -> new PlainBench(station.brokerAddress(), "Station", "guess"))
                .isInstanceOf(Exception.class);
    }

    @Test
    void secondStationOnTheSameFolder_isToldPlainly() {
        assertThatThrownBy(() -> Station.start(config(folder)))
                .isInstanceOf(StationTrouble.class)
                .hasMessageStartingWith("another logger is using the data folder");
    }

    @Test
    void takenPort_isToldPlainly() {
        StationConfig other =
                StationConfig.inFolder(folder.resolve("other")).onBrokerPort(station.brokerPort());

        assertThatThrownBy(() -> Station.start(other)).hasMessageContaining("--broker-port");
    }

    /** Triggers refuse what a later schema or a fault might, first the record, then also its reason. */
    @Test
    void whatTheDatabaseRefuses_isSetAside_whateverItSaysOfIt() throws Exception {
        assumeFalse(TestDatabase.isPostgresql());
        refuseIn("cycle", "NEW.bench_id = '" + benchId + "'", "no room for bees");
        CycleRecord one = Samples.cycle(benchId, UUID.randomUUID(), outbox, 1);
        bench.say(Topics.Kind.CYCLE, one);
        Receipt first = bench.receiptFor(one.cycleId(), 1);

        refuseIn(
                "set_aside",
                "NEW.bench_id = '" + benchId + "' AND NEW.reason LIKE '%bees%'",
                "no bees either");
        CycleRecord other = Samples.cycle(benchId, UUID.randomUUID(), outbox, 2);
        bench.say(Topics.Kind.CYCLE, other);
        Receipt second = bench.receiptFor(other.cycleId(), 1);

        assertThat(first.result()).isEqualTo(Receipt.Result.SET_ASIDE);
        assertThat(first.reason())
                .startsWith("the database refused it: ")
                .contains("no room for bees")
                .doesNotContain("INSERT");
        assertThat(second.result()).isEqualTo(Receipt.Result.SET_ASIDE);
        assertThat(second.reason()).isEqualTo("the database refused it and the reason for that");
        assertThat(setAside()).hasSize(2);
    }

    private void refuseIn(String table, String when, String words) {
        station.database()
                .change(
                        handle ->
                                handle.execute(
                                        "CREATE TRIGGER refuse_%s BEFORE INSERT ON %s WHEN %s BEGIN SELECT RAISE(ABORT, '%s'); END"
                                                .formatted(table, table, when, words)));
    }

    @Test
    void recordSurvivesARestartOfStationAndBroker() throws Exception {
        CycleRecord cycle = Samples.cycle(benchId, UUID.randomUUID(), outbox, 1);
        bench.say(Topics.Kind.CYCLE, cycle);
        bench.receiptFor(cycle.cycleId(), 1);
        noBench();
        stop();
        start();
        bench = new PlainBench(station.brokerAddress(), benchId, password(benchId));

        assertThat(cycles()).hasSize(1);
        bench.say(Topics.Kind.CYCLE, cycle);
        assertThat(bench.receiptFor(cycle.cycleId(), 1).result())
                .isEqualTo(Receipt.Result.DUPLICATE);
    }
}
