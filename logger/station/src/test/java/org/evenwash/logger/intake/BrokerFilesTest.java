package org.evenwash.logger.intake;

import static java.nio.charset.StandardCharsets.UTF_8;
import static java.util.concurrent.TimeUnit.SECONDS;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.util.HashMap;
import java.util.Map;
import java.util.UUID;
import org.eclipse.paho.mqttv5.client.MqttClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.evenwash.logger.Station;
import org.evenwash.logger.StationConfig;
import org.evenwash.logger.cli.Run;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Messages;
import org.evenwash.record.Receipt;
import org.evenwash.record.Topics;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What {@code broker-files} writes, with a real Mosquitto. */
class BrokerFilesTest {
    private static final String BENCH = "shed-1";
    private static final String OTHER = "shed-2";

    private final Map<String, String> passwords = new HashMap<>();

    @Test
    void mosquittoWithOurFiles_letsEachInToItsOwn_andShutsOutWhoIsRevoked(@TempDir Path folder)
            throws Exception {
        Path data = folder.resolve("data");
        Path files = folder.resolve("files");
        Files.createDirectories(data);
        String password;
        String others;
        try (Database database = Database.open("jdbc:sqlite:" + data.resolve("evenwash.db"))) {
            Workplace work = Workplace.over(database, new Samples.NoLink(), Clock.systemUTC());
            password = work.benches().admit(BENCH, BENCH, true, By.nobody());
            others = work.benches().admit(OTHER, OTHER, true, By.nobody());
        }
        write(data, files);
        String settings = Files.readString(files.resolve("evenwash.conf"));
        assertThat(settings).contains("listener 1883 127.0.0.1", "use_username_as_clientid true");
        try (Mosquitto broker = new Mosquitto(folder.resolve("mosquitto"), settings)) {
            StationConfig config =
                    StationConfig.inFolder(data)
                            .withBroker(
                                    broker.address(),
                                    "Station",
                                    Files.readString(files.resolve("Station-password")).strip());
            try (Station station = Station.start(config)) {
                await().atMost(20, SECONDS).until(station::isConnected);
                strangersChangeNothing(broker, station);
                try (PlainBench bench = new PlainBench(broker.address(), BENCH, password);
                        PlainBench other = new PlainBench(broker.address(), OTHER, others)) {
                    CycleRecord cycle = record(BENCH, 1);
                    bench.say(Topics.Kind.CYCLE, cycle);
                    bench.receiptFor(cycle.cycleId(), 1);

                    // Mosquitto lets anybody subscribe; what may not be read never comes.
                    other.subscribe(Topics.of(BENCH, Topics.Kind.RECEIPT));
                    CycleRecord second = record(BENCH, 2);
                    bench.say(Topics.Kind.CYCLE, second);
                    bench.receiptFor(second.cycleId(), 1);
                    CycleRecord own = record(OTHER, 1);
                    other.say(Topics.Kind.CYCLE, own);
                    other.receiptFor(own.cycleId(), 1);
                    assertThat(other.receipts)
                            .extracting(Receipt::messageId)
                            .containsExactly(own.cycleId());
                    assertThat(other.reasonOf(Topics.of(BENCH, Topics.Kind.CYCLE), forged(3)))
                            .isEqualTo(0x87);
                    assertThat(cycles(station, BENCH)).isEqualTo(2);

                    // The library hangs up on a refusal. Under the other's client id it ends
                    // nobody.
                    try (PlainBench again =
                            new PlainBench(
                                    broker.address(),
                                    OTHER,
                                    others,
                                    "evenwash-bench-" + BENCH,
                                    null)) {
                        assertThat(again.isConnected()).isTrue();
                        assertThat(bench.isConnected()).isTrue();
                    }

                    // Nor does a last will speak for another.
                    PlainBench.vanish(
                            broker.address(),
                            OTHER,
                            others,
                            Topics.of(BENCH, Topics.Kind.CYCLE),
                            forged(4));
                    PlainBench.vanish(
                            broker.address(),
                            OTHER,
                            others,
                            Topics.of(OTHER, Topics.Kind.CYCLE),
                            Messages.write(record(OTHER, 2)));
                    await().dontCatchUncaughtExceptions() // of the library when it is cut off
                            .atMost(20, SECONDS)
                            .until(() -> cycles(station, OTHER) == 2);
                    assertThat(cycles(station, BENCH)).isEqualTo(2);

                    station.workplace().benches().revoke(BENCH, By.nobody());
                    write(data, files);
                    broker.readFilesAgain();
                    await().atMost(20, SECONDS).until(() -> !bench.isConnected());
                    assertThatThrownBy(() -> new PlainBench(broker.address(), BENCH, password))
                            .isInstanceOf(MqttException.class);
                }
            }
        }
    }

    private static int cycles(Station station, String benchId) {
        return station.workplace().cycles().list(benchId, Page.first(9)).rows().size();
    }

    /** Mosquitto deals to whoever subscribes to a share, and drops what that one may not read. */
    @Test
    void benchThatJoinsTheLoggersGroup_isDealtNothing(@TempDir Path folder) throws Exception {
        try (Mosquitto broker = withOurFiles(folder);
                Station station = Station.start(inGroup(broker, folder));
                PlainBench bench = new PlainBench(broker.address(), BENCH, passwords.get(BENCH));
                PlainBench thief = new PlainBench(broker.address(), OTHER, passwords.get(OTHER))) {
            await().atMost(20, SECONDS).until(station::isConnected);
            thief.subscribe("$share/yard/" + Topics.ofAllBenches(Topics.Kind.CYCLE));
            for (int sequence = 1; sequence <= 10; sequence++) {
                CycleRecord cycle = record(BENCH, sequence);
                bench.say(Topics.Kind.CYCLE, cycle);
                bench.receiptFor(cycle.cycleId(), 1);
            }
        }
    }

    /** An earlier version shared by the group's name alone, and its session may be taken up. */
    @Test
    void sessionOfAnEarlierVersion_losesNothing_andIsNotDealtTwice(@TempDir Path folder)
            throws Exception {
        try (Mosquitto broker = withOurFiles(folder);
                PlainBench bench = new PlainBench(broker.address(), BENCH, passwords.get(BENCH))) {
            StationConfig config = inGroup(broker, folder);
            earlierSession(config, "$share/yard/" + Topics.ofAllBenches(Topics.Kind.CYCLE));
            CycleRecord waiting = record(BENCH, 1);
            bench.say(Topics.Kind.CYCLE, waiting);
            try (Station station = Station.start(config)) {
                bench.receiptFor(waiting.cycleId(), 1);
                await().atMost(20, SECONDS).until(station::isConnected);
                for (int sequence = 2; sequence <= 10; sequence++) {
                    CycleRecord cycle = record(BENCH, sequence);
                    bench.say(Topics.Kind.CYCLE, cycle);
                    bench.receiptFor(cycle.cycleId(), 1);
                }
                assertThat(bench.receipts).hasSize(10);
            }
        }
    }

    private Mosquitto withOurFiles(Path folder) throws Exception {
        Path data = folder.resolve("data");
        Files.createDirectories(data);
        try (Database database = Database.open("jdbc:sqlite:" + data.resolve("evenwash.db"))) {
            Workplace work = Workplace.over(database, new Samples.NoLink(), Clock.systemUTC());
            for (String id : new String[] {BENCH, OTHER}) {
                passwords.put(id, work.benches().admit(id, id, true, By.nobody()));
            }
        }
        Path files = folder.resolve("files");
        write(data, files);
        return new Mosquitto(
                folder.resolve("mosquitto"), Files.readString(files.resolve("evenwash.conf")));
    }

    private static StationConfig inGroup(Mosquitto broker, Path folder) throws IOException {
        return StationConfig.inFolder(folder.resolve("data"))
                .withBroker(
                        broker.address(),
                        "Station",
                        Files.readString(folder.resolve("files/Station-password")).strip())
                .inGroup("yard");
    }

    private static void earlierSession(StationConfig config, String filter) throws MqttException {
        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setCleanStart(false);
        options.setSessionExpiryInterval(Connection.SHARED_SESSION_EXPIRY_S);
        options.setUserName(config.brokerUser());
        options.setPassword(config.brokerPassword().getBytes(UTF_8));
        MqttClient earlier =
                new MqttClient(
                        config.broker().toString().replace("mqtt:", "tcp:"),
                        "earlier",
                        new MemoryPersistence());
        earlier.connect(options);
        earlier.subscribe(filter, 1);
        earlier.disconnect();
        earlier.close();
    }

    private static void strangersChangeNothing(Mosquitto broker, Station station) {
        for (String password : new String[] {null, "guess"}) {
            assertThatThrownBy(() -> new PlainBench(broker.address(), BENCH, password))
                    .isInstanceOf(MqttException.class);
        }
        assertThat(station.committed()).isZero();
    }

    private static CycleRecord record(String bench, long sequence) {
        return Samples.cycle(bench, UUID.randomUUID(), UUID.randomUUID(), sequence);
    }

    private static byte[] forged(long sequence) {
        return Messages.write(record(BENCH, sequence));
    }

    private static void write(Path data, Path files) {
        Run run = Run.of("broker-files", files.toString(), "--data", data.toString());
        assertThat(run.exit()).as(run.err()).isZero();
    }
}
