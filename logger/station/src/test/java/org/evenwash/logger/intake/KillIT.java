package org.evenwash.logger.intake;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.nio.file.Path;
import java.util.List;
import org.evenwash.logger.DataFolder;
import org.evenwash.logger.Station;
import org.evenwash.logger.StationConfig;
import org.evenwash.logger.store.CycleLine;
import org.evenwash.logger.store.Cycles;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.OutboxNumbers;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.wash.By;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** kill -9 of the station, and of the broker, in the middle of a stream of records. */
class KillIT {
    private static final int RECORDS = 400;
    private static final int MOST_ROUNDS = 100;
    @TempDir Path folder;

    private Path data() {
        return folder.resolve("data");
    }

    @Test
    void stationKilledOnMosquitto_everyRecordArrivesExactlyOnce() throws IOException {
        try (Mosquitto broker = new Mosquitto(folder.resolve("mosquitto"));
                StubbornBench bench =
                        new StubbornBench(broker.address(), "bench-1", null, RECORDS)) {
            String address = broker.address().toString();
            ChildStation station = new ChildStation(data(), "--broker", address).connected();
            bench.offer(RECORDS / 2);
            station.kill();
            bench.offer(RECORDS);
            assertThat(bench.left()).isPositive();
            try (ChildStation again = new ChildStation(data(), "--broker", address).connected()) {
                assertThat(again).isNotNull();
                untilAllHaveReceipts(bench);
            }
        }
        everyRecordIsThereOnce();
    }

    @Test
    void mosquittoKilled_everyRecordArrivesExactlyOnce() throws IOException {
        try (Mosquitto broker = new Mosquitto(folder.resolve("mosquitto"));
                StubbornBench bench =
                        new StubbornBench(broker.address(), "bench-1", null, RECORDS);
                ChildStation station =
                        new ChildStation(data(), "--broker", broker.address().toString())
                                .connected()) {
            assertThat(station).isNotNull();
            bench.offer(RECORDS / 2);
            broker.kill();
            bench.offer(RECORDS);
            assertThat(bench.left()).isPositive();
            broker.start();
            untilAllHaveReceipts(bench);
        }
        everyRecordIsThereOnce();
    }

    @Test
    void stationKilledWithItsOwnBroker_everyRecordArrivesExactlyOnce() throws IOException {
        String password;
        try (Station first = Station.start(StationConfig.inFolder(data()))) {
            password = first.workplace().benches().admit("bench-1", "Bench", true, By.nobody());
        }
        int port;
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            port = socket.getLocalPort();
        }
        URI address = URI.create("mqtt://127.0.0.1:" + port);
        try (StubbornBench bench = new StubbornBench(address, "bench-1", password, RECORDS)) {
            ChildStation station = new ChildStation(data(), "--broker-port", "" + port).connected();
            bench.offer(RECORDS / 2);
            station.kill();
            bench.offer(RECORDS);
            assertThat(bench.left()).isPositive();
            try (ChildStation again =
                    new ChildStation(data(), "--broker-port", "" + port).connected()) {
                assertThat(again).isNotNull();
                untilAllHaveReceipts(bench);
            }
        }
        everyRecordIsThereOnce();
    }

    private static void untilAllHaveReceipts(StubbornBench bench) {
        for (int round = 0; bench.left() > 0 && round < MOST_ROUNDS; round++) {
            bench.offer(RECORDS);
            bench.listen(1_000);
        }
        assertThat(bench.left()).isZero();
    }

    private void everyRecordIsThereOnce() {
        try (Database database = Database.open("jdbc:sqlite:" + DataFolder.database(data()))) {
            List<CycleLine> cycles =
                    database.read(handle -> Cycles.list(handle, "bench-1", new Page(1, 500)))
                            .rows();
            assertThat(cycles).hasSize(RECORDS);
            assertThat(cycles).noneMatch(CycleLine::sequenceClash);
            List<OutboxNumbers.Gap> missing = database.read(handle -> OutboxNumbers.gaps(handle));
            assertThat(missing).isEmpty();
        }
    }
}
