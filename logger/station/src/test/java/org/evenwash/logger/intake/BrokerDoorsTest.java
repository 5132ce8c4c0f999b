package org.evenwash.logger.intake;

import static java.util.concurrent.TimeUnit.SECONDS;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Clock;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.evenwash.logger.Station;
import org.evenwash.logger.StationConfig;
import org.evenwash.logger.StationTrouble;
import org.evenwash.logger.broker.BrokerTrouble;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.tls.Authority;
import org.evenwash.logger.tls.Authority.Server;
import org.evenwash.logger.tls.Trust;
import org.evenwash.logger.wash.BenchRegister;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.BenchState;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Message;
import org.evenwash.record.Messages;
import org.evenwash.record.Topics;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The embedded broker's door: who is let in, under which name, for how long, and how. */
class BrokerDoorsTest {
    private static final String STOLEN = "shed-1";
    private static final String OTHER = "shed-2";

    @Test
    void stolenBench_isCutOff_andNotLetInAgain_whileOthersStay(@TempDir Path folder)
            throws Exception {
        try (Station station = Station.start(StationConfig.inFolder(folder))) {
            Workplace work = station.workplace();
            String password = work.benches().admit(STOLEN, STOLEN, true, By.nobody());
            String others = work.benches().admit(OTHER, OTHER, true, By.nobody());
            URI broker = station.brokerAddress();
            try (PlainBench stolen = new PlainBench(broker, STOLEN, password);
                    PlainBench other = new PlainBench(broker, OTHER, others)) {
                // As the command does it: another process over the same database.
                try (Database beside =
                        Database.open("jdbc:sqlite:" + folder.resolve("evenwash.db"))) {
                    Workplace.over(beside, new Samples.NoLink(), Clock.systemUTC())
                            .benches()
                            .revoke(STOLEN, By.nobody());
                }
                await().atMost(20, SECONDS).until(() -> !stolen.isConnected());
                assertThat(other.isConnected()).isTrue();
                assertThatThrownBy(() -> new PlainBench(broker, STOLEN, password))
                        .isInstanceOf(MqttException.class);
                CycleRecord cycle = Samples.cycle(OTHER, UUID.randomUUID(), UUID.randomUUID(), 1);
                other.say(Topics.Kind.CYCLE, cycle);
                other.receiptFor(cycle.cycleId(), 1);
            }
        }
    }

    @Test
    void bench_mayNotCallItselfAnotherClient(@TempDir Path folder) throws Exception {
        try (Station station = Station.start(StationConfig.inFolder(folder))) {
            Workplace work = station.workplace();
            String password = work.benches().admit(STOLEN, STOLEN, true, By.nobody());
            String others = work.benches().admit(OTHER, OTHER, true, By.nobody());
            URI broker = station.brokerAddress();
            await().atMost(20, SECONDS).until(station::isConnected);
            String stationsOwn = Files.readString(folder.resolve("station-id")).strip();
            try (PlainBench other = new PlainBench(broker, OTHER, others);
                    PlainBench itself = new PlainBench(broker, STOLEN, password)) {
                // A password that has just been right opens nothing to another client.
                for (String client :
                        new String[] {"evenwash-bench-" + OTHER, stationsOwn, "anything", ""}) {
                    assertThatThrownBy(() -> new PlainBench(broker, STOLEN, password, client, null))
                            .as(client)
                            .isInstanceOf(MqttException.class);
                }
                assertThat(other.isConnected()).isTrue();
                assertThat(itself.isConnected()).isTrue();
                assertThat(station.isConnected()).isTrue();
            }
        }
    }

    /** In Artemis a queue has a name like any other, and a subscriber that it refuses may take it along. */
    @Test
    void thiefWhoNamesTheQueuesOfOthers_silencesNobody(@TempDir Path folder) throws Exception {
        try (Station station = Station.start(StationConfig.inFolder(folder))) {
            BenchRegister benches = station.workplace().benches();
            String password = benches.admit(STOLEN, STOLEN, true, By.nobody());
            String others = benches.admit(OTHER, OTHER, true, By.nobody());
            URI broker = station.brokerAddress();
            await().atMost(20, SECONDS).until(station::isConnected);
            String command = Topics.of(OTHER, Topics.Kind.COMMAND);
            String queue = "evenwash-bench-" + OTHER + "." + command;
            try (PlainBench other = new PlainBench(broker, OTHER, others)) {
                for (String filter :
                        new String[] {
                            "$share/evenwash-bench-" + OTHER + "/" + command,
                            "$share/$sys/mqtt.sessions",
                            "$sys.mqtt.sessions",
                            command + "::" + queue,
                            Topics.of(STOLEN, Topics.Kind.COMMAND) + "::" + queue
                        }) {
                    int before = other.commands.size();
                    try (PlainBench thief = new PlainBench(broker, STOLEN, password)) {
                        assertThatThrownBy(() -> thief.subscribe(filter))
                                .as(filter)
                                .isInstanceOf(MqttException.class);
                    }
                    try (PlainBench thief = new PlainBench(broker, STOLEN, password)) {
                        assertThatThrownBy(() -> thief.unsubscribe(filter))
                                .as(filter)
                                .isInstanceOf(MqttException.class);
                    }
                    try (PlainBench thief = new PlainBench(broker, STOLEN, password)) {
                        assertThatThrownBy(() -> thief.say(filter, new byte[1], true))
                                .as(filter)
                                .isInstanceOf(MqttException.class);
                    }
                    benches.stop(OTHER, UUID.randomUUID());
                    await(filter)
                            .atMost(10, SECONDS)
                            .until(() -> other.commands.size() == before + 1);
                }
                assertThat(other.isConnected()).isTrue();
            }
        }
    }

    /** The broker itself publishes a last will (MQTT 5.0, 3.1.2.5), and has to ask the same rules for it. */
    @Test
    void lastWill_reachesTheBenchsOwnTopics_andNobodyElses(@TempDir Path folder) throws Exception {
        try (Station station = Station.start(StationConfig.inFolder(folder))) {
            Workplace work = station.workplace();
            String password = work.benches().admit(STOLEN, STOLEN, true, By.nobody());
            String others = work.benches().admit(OTHER, OTHER, true, By.nobody());
            URI broker = station.brokerAddress();
            await().atMost(20, SECONDS).until(station::isConnected);
            try (PlainBench other = new PlainBench(broker, OTHER, others)) {
                for (Topics.Kind kind : Topics.Kind.values()) {
                    byte[] forged = Messages.write(inTheNameOfTheOther(kind));
                    PlainBench.vanish(broker, STOLEN, password, Topics.of(OTHER, kind), forged);
                }
                byte[] own =
                        Messages.write(
                                Samples.cycle(STOLEN, UUID.randomUUID(), UUID.randomUUID(), 1));
                PlainBench.vanish(
                        broker, STOLEN, password, Topics.of(STOLEN, Topics.Kind.CYCLE), own);
                await().dontCatchUncaughtExceptions() // of the library's threads when it is cut off
                        .atMost(20, SECONDS)
                        .until(() -> !work.cycles().list(STOLEN, Page.first(9)).rows().isEmpty());
                assertThat(work.cycles().list(OTHER, Page.first(9)).rows()).isEmpty();
                assertThat(station.committed()).isEqualTo(1);
                assertThat(station.board().of(OTHER)).isEmpty();
                // What it cannot read ends its connection.
                assertThat(other.isConnected()).isTrue();
                assertThat(other.receipts).isEmpty();
            }
        }
    }

    private static Message inTheNameOfTheOther(Topics.Kind kind) {
        UUID id = UUID.randomUUID();
        return switch (kind) {
            case CYCLE, TICKET, COMMAND, RECEIPT -> Samples.cycle(OTHER, id, UUID.randomUUID(), 1);
            case STATE -> Samples.online(OTHER, List.of(), new BenchState.OutboxState(id, 0, 0));
            case LIVE -> Samples.live(OTHER, id);
            case EVENT -> Samples.event(OTHER, id, 1, BenchEvent.Kind.TICKET_REFUSED, id);
        };
    }

    @Test
    void withoutPassword_nothingIsChanged(@TempDir Path folder) {
        try (Station station = Station.start(StationConfig.inFolder(folder))) {
            station.workplace().benches().admit(STOLEN, STOLEN, true, By.nobody());
            for (String password : new String[] {null, "", "guess"}) {
                assertThatThrownBy(
                                () -> {
                                    try (PlainBench bench =
                                            new PlainBench(
                                                    station.brokerAddress(), STOLEN, password)) {
                                        bench.say(
                                                Topics.of(STOLEN, Topics.Kind.CYCLE),
                                                Messages.write(
                                                        Samples.cycle(
                                                                STOLEN,
                                                                UUID.randomUUID(),
                                                                UUID.randomUUID(),
                                                                1)),
                                                false);
                                    }
                                })
                        .isInstanceOf(MqttException.class);
            }
            assertThat(station.workplace().cycles().list(STOLEN, Page.first(9)).rows()).isEmpty();
            assertThat(station.committed()).isZero();
        }
    }

    /** Artemis lets its own cluster user past every rule, and the manual names a password for it. */
    @Test
    void publishedClusterPassword_opensNothing(@TempDir Path folder) {
        try (Station station = Station.start(StationConfig.inFolder(folder))) {
            assertThatThrownBy(
                            () ->
                                    new PlainBench(
                                            station.brokerAddress(),
                                            "ACTIVEMQ.CLUSTER.ADMIN.USER",
                                            "CHANGE ME!!",
                                            "stranger",
                                            null))
                    .isInstanceOf(MqttException.class);
        }
    }

    @Test
    void withTls_aBenchThatTrustsTheAuthorityIsLetIn_andNoOther(@TempDir Path folder)
            throws Exception {
        Path tls = folder.resolve("tls");
        Authority authority = new Authority(tls, Clock.systemUTC());
        authority.create("a test");
        authority.issue(Server.BROKER, Set.of());
        assertThat(
                        PosixFilePermissions.toString(
                                Files.getPosixFilePermissions(Server.BROKER.key(tls))))
                .isEqualTo("rw-------");
        Authority stranger = new Authority(folder.resolve("other"), Clock.systemUTC());
        stranger.create("somebody else");
        StationConfig config =
                StationConfig.inFolder(folder.resolve("data"))
                        .listening("127.0.0.1", 0, Server.BROKER.in(tls));
        try (Station station = Station.start(config)) {
            String password =
                    station.workplace().benches().admit(STOLEN, STOLEN, true, By.nobody());
            URI broker = station.brokerAddress();
            String client = "evenwash-bench-" + STOLEN;
            assertThat(broker.getScheme()).isEqualTo("mqtts");
            await("own line").atMost(20, SECONDS).until(station::isConnected);
            try (PlainBench bench =
                    new PlainBench(broker, STOLEN, password, client, Trust.in(authority.trust()))) {
                CycleRecord cycle = Samples.cycle(STOLEN, UUID.randomUUID(), UUID.randomUUID(), 1);
                bench.say(Topics.Kind.CYCLE, cycle);
                bench.receiptFor(cycle.cycleId(), 1);
            }
            assertThatThrownBy(
                            () ->
                                    new PlainBench(
                                            broker,
                                            STOLEN,
                                            password,
                                            client,
                                            Trust.in(stranger.trust())))
                    .isInstanceOf(MqttException.class);
            assertThatThrownBy(() -> new PlainBench(broker, STOLEN, password))
                    .isInstanceOf(MqttException.class);
        }
    }

    @Test
    void withoutTls_noPasswordLeavesThisMachine(@TempDir Path folder) {
        StationConfig open = StationConfig.inFolder(folder).listening("0.0.0.0", 0, null);
        assertThatThrownBy(() -> Station.start(open))
                .isInstanceOf(BrokerTrouble.class)
                .hasMessageContaining("would travel in clear");
        StationConfig outside =
                StationConfig.inFolder(folder)
                        .withBroker(URI.create("mqtt://192.0.2.1:1883"), "Station", "secret words");
        assertThatThrownBy(() -> Station.start(outside))
                .isInstanceOf(StationTrouble.class)
                .hasMessageContaining("would travel in clear")
                .message()
                .doesNotContain("secret words");
    }
}
