package org.evenwash.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/**
 * 50 simulated benches before one logger as its package starts it, a fault every minute: an hour with {@code mvn
 * -Psoak verify}, five minutes otherwise. Memory and file handles of the logger stay flat, and at the
 * end every cycle is in the database once.
 */
@Tag("soak")
@Execution(ExecutionMode.CONCURRENT)
class SoakIT {
    private static final int MINUTES = Integer.getInteger("evenwash.soak.minutes", 5);
    private static final int BENCHES = Integer.getInteger("evenwash.soak.benches", 50);
    private static final double SPEED = 4;
    private static final Duration FAULT_LASTS = Duration.ofSeconds(5);
    private static final Duration PATIENCE = Duration.ofMinutes(5);

    /** A leak of a hundred bytes a cycle would show; caches and pools settle well below. */
    private static final double MOST_HEAP_GROWTH_MB = 16;

    private static final double MOST_RESIDENT_GROWTH_MB = 64;
    private static final double MOST_HANDLE_GROWTH = 10;

    @TempDir Path folder;
    private Path script;
    private Program logger;
    private Proxy line;

    @Test
    void hoursOfWashing_leaveMemoryAndHandlesFlat_andLoseNothing() throws Exception {
        Path data = folder.resolve("logger");
        int port = Yard.freePort();
        script = Shipped.LOGGER.install(Files.createDirectory(folder.resolve("installed")));
        try (Proxy network = new Proxy(port);
                SoakYard yard = new SoakYard(folder, data, BENCHES, network.port(), SPEED)) {
            line = network;
            start(data, port);
            yard.work();
            // Killed once, early: after that the same process is watched to the end.
            BenchHand.pass(Duration.ofSeconds(20));
            logger.kill();
            start(data, port);
            Footprint footprint = watched(data);
            yard.rest();
            Awaitility.await("receipts for all")
                    .atMost(PATIENCE)
                    .pollInterval(Duration.ofSeconds(1))
                    .until(() -> yard.unsent() == 0);
            judge(yard, data.resolve("evenwash.db"), footprint);
        } finally {
            if (logger != null) {
                logger.close();
            }
        }
    }

    private void start(Path data, int port) {
        logger =
                Installed.run(
                        script,
                        "serve",
                        "--data",
                        data.toString(),
                        "--port",
                        "0",
                        "--broker-port",
                        String.valueOf(port));
        logger.await("Benches connect");
    }

    /** One look after each minute's fault; the first minute warms up and does not count. */
    private Footprint watched(Path data) throws Exception {
        String pages = logger.await("Pages at").replace("Pages at ", "");
        Footprint footprint = new Footprint(logger.pid());
        for (int minute = 0; minute < MINUTES; minute++) {
            fault(minute, data);
            for (int look = 0; look < 2; look++) {
                BenchHand.pass(Duration.ofSeconds(25));
                assertThat(statusOf(pages)).isEqualTo(200);
                if (minute > 0) {
                    System.out.printf("soak: minute %d, %s%n", minute + 1, footprint.look());
                }
            }
        }
        return footprint;
    }

    private void fault(int minute, Path data) throws SQLException {
        switch (minute % 4) {
            case 0 -> {
                line.become(Proxy.Condition.CUT);
                BenchHand.pass(FAULT_LASTS);
                line.become(Proxy.Condition.OPEN);
            }
            case 1 -> {
                logger.freeze();
                BenchHand.pass(FAULT_LASTS);
                logger.thaw();
            }
            case 2 -> {
                try (Connection lock =
                                DriverManager.getConnection(
                                        "jdbc:sqlite:" + data.resolve("evenwash.db"));
                        Statement statement = lock.createStatement()) {
                    statement.execute("PRAGMA busy_timeout = 20000");
                    statement.execute("BEGIN IMMEDIATE");
                    BenchHand.pass(FAULT_LASTS);
                }
            }
            default -> {
                line.become(Proxy.Condition.SILENT);
                BenchHand.pass(FAULT_LASTS);
                line.become(Proxy.Condition.OPEN);
            }
        }
    }

    private static int statusOf(String pages) throws IOException, InterruptedException {
        return HttpClient.newHttpClient()
                .send(
                        HttpRequest.newBuilder(URI.create(pages + "/"))
                                .timeout(Duration.ofMinutes(1))
                                .build(),
                        HttpResponse.BodyHandlers.discarding())
                .statusCode();
    }

    private static void judge(SoakYard yard, Path database, Footprint footprint)
            throws SQLException {
        List<String> begun = new ArrayList<>();
        long numbers = 0;
        for (Path outbox : yard.outboxes()) {
            begun.addAll(Judge.cyclesIn(outbox));
            numbers +=
                    Long.parseLong(Yard.column(outbox, "SELECT last_sequence FROM outbox").get(0));
        }
        List<String> stored = Yard.column(database, "SELECT id FROM cycle");
        double heap_MB = footprint.growth(Footprint.Look::heap_MB);
        double resident_MB = footprint.growth(Footprint.Look::resident_MB);
        double handles = footprint.growth(Footprint.Look::handles);
        System.out.printf(
                Locale.ROOT,
                "soak: %d minutes, %d benches, %d cycles begun, %d stored; growth of heap %.1f MB,"
                        + " of resident memory %.1f MB, of file handles %.0f%n",
                MINUTES,
                BENCHES,
                begun.size(),
                stored.size(),
                heap_MB,
                resident_MB,
                handles);
        assertThat(begun).hasSizeGreaterThan(BENCHES);
        assertThat(stored).containsExactlyInAnyOrderElementsOf(begun);
        assertThat(
                        Yard.column(
                                database,
                                "SELECT COUNT(DISTINCT outbox_id || ' ' || sequence) FROM outbox_number"))
                .containsExactly(String.valueOf(numbers));
        assertThat(Yard.column(database, "SELECT reason FROM set_aside")).isEmpty();
        assertThat(heap_MB).isLessThan(MOST_HEAP_GROWTH_MB);
        assertThat(resident_MB).isLessThan(MOST_RESIDENT_GROWTH_MB);
        assertThat(handles).isLessThan(MOST_HANDLE_GROWTH);
    }
}
