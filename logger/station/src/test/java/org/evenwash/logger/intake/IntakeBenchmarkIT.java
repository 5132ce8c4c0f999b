package org.evenwash.logger.intake;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import java.util.function.ToDoubleFunction;
import java.util.stream.Stream;
import org.awaitility.Awaitility;
import org.evenwash.logger.DataFolder;
import org.evenwash.logger.PostgresCluster;
import org.evenwash.logger.Station;
import org.evenwash.logger.StationConfig;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.wash.By;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;

/**
 * Records per second from a broker's backlog into committed rows, beside a short script and a shell pipe
 * with the same durability, in turn; and what each loses when it is killed half-way. Java
 * compiles what is used often: the first five eighths of a backlog, counted from the first row seen, are
 * told apart from the rest, which is how a logger goes that has run for a while.
 */
@Tag("benchmark")
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class IntakeBenchmarkIT {
    private static final int RECORDS = Integer.getInteger("evenwash.benchmark.records", 160_000);

    /** Each takes its turn so often: what else a machine does changes from minute to minute. */
    private static final int ROUNDS = Integer.getInteger("evenwash.benchmark.rounds", 3);

    private static final int RECORDS_OF_A_KILL = RECORDS / 4;
    private static final int RECORDS_OF_THE_PIPE = RECORDS / 20;
    private static final double WARMING = 5 / 8.0;
    private static final Duration PATIENCE = Duration.ofMinutes(10);

    /** Nothing is ever deleted from it. */
    private static final String ROWS = "SELECT COALESCE(MAX(rowid), 0) FROM cycle";

    @TempDir Path folder;
    private int run;

    /** Something that takes records from the broker into a database until it is closed. */
    private interface Taker extends AutoCloseable {
        /** So far; asked often, so it must cost next to nothing. */
        long rows() throws SQLException;

        /** Different records among them. */
        long records() throws SQLException;

        /** Processor time used so far, all its processes together. */
        Duration cpu();

        /** kill -9 of all its processes, and the same thing started again. */
        void killAndStartAgain() throws IOException;

        @Override
        void close();
    }

    /**
     * How fast it went.
     *
     * @param coldPerSecond while warming up
     * @param perSecond after that
     * @param cpu_us processor time for each record, which says more than the rate where other work keeps the
     *     machine busy
     */
    private record Pace(double coldPerSecond, double perSecond, double cpu_us) {}

    private interface Starter {
        Taker start(URI broker, Path place) throws IOException;
    }

    @Test
    void besideAScriptAndAPipe_withTheSameDurability() throws Exception {
        say("### Intake: backlog of Mosquitto to committed row (SQLite, WAL, synchronous FULL)");
        say(
                "| program | records/s at first | records/s warm | of the script's rate | CPU, µs a record, warm | lost when killed |");
        say("|---|---|---|---|---|---|");
        Starter theScript = (broker, place) -> new Pipe(script(broker, place), place);
        Starter thePipe = (broker, place) -> new Pipe(pipe(broker, place), place);
        List<Pace> scripts = new ArrayList<>();
        List<Pace> ours = new ArrayList<>();
        for (int round = 0; round < ROUNDS; round++) {
            scripts.add(pace("script", RECORDS, theScript));
            ours.add(pace("evenwash-bench", RECORDS, OneStation::new));
        }
        long oursLost = lost("evenwash-bench", RECORDS_OF_A_KILL, OneStation::new);
        row(
                "evenwash-logger: validates, keeps once, sends receipts",
                ours,
                scripts,
                oursLost,
                RECORDS_OF_A_KILL);
        long scriptLost = lost("script", RECORDS_OF_A_KILL, theScript);
        row(
                "Python script of 40 lines, batches of 100",
                scripts,
                scripts,
                scriptLost,
                RECORDS_OF_A_KILL);
        List<Pace> pipe = List.of(pace("pipe", RECORDS_OF_THE_PIPE, thePipe));
        long pipeLost = lost("pipe", RECORDS_OF_THE_PIPE, thePipe);
        row("mosquitto_sub \\| sqlite3", pipe, scripts, pipeLost, RECORDS_OF_THE_PIPE);

        assertThat(oursLost).isZero();
    }

    @Test
    void oneAndTwoLoggers_onPostgresql() throws Exception {
        say("### Intake: backlog of Mosquitto to committed row, PostgreSQL with fsync");
        say(
                "| loggers | records/s at first | records/s warm | of one on SQLite | CPU of the loggers, µs a record, warm |");
        say("|---|---|---|---|---|");
        Pace onSqlite = pace("evenwash-bench", RECORDS, OneStation::new);
        try (PostgresCluster cluster = PostgresCluster.startDurable()) {
            for (int loggers = 1; loggers <= 2; loggers++) {
                Pace pace = paceOf(loggers, cluster);
                say(
                        "| %d | %.0f | %.0f | %.2f | %.0f |",
                        loggers,
                        pace.coldPerSecond(),
                        pace.perSecond(),
                        pace.perSecond() / onSqlite.perSecond(),
                        pace.cpu_us());
            }
        }
    }

    private Pace paceOf(int loggers, PostgresCluster cluster) throws Exception {
        String name = "loggers" + loggers;
        cluster.execute("CREATE DATABASE " + name);
        Path place = Files.createDirectories(folder.resolve(name));
        List<ChildStation> stations = new ArrayList<>();
        try (Mosquitto broker = Mosquitto.savingSeldom(place.resolve("mosquitto"));
                Database database = Database.open(cluster.url(name))) {
            for (int i = 1; i <= loggers; i++) {
                Backlog.subscribe(broker.address(), id(place, i), "yard");
            }
            Backlog.publish(broker.address(), null, null, Backlog.benches(), RECORDS);
            for (int i = 1; i <= loggers; i++) {
                stations.add(
                        new ChildStation(
                                place.resolve("data" + i),
                                "--broker",
                                broker.address().toString(),
                                "--database",
                                cluster.url(name),
                                "--group",
                                "yard"));
            }
            return untilAll(
                    () -> count(database),
                    () ->
                            stations.stream()
                                    .map(ChildStation::cpu)
                                    .reduce(Duration.ZERO, Duration::plus),
                    RECORDS);
        } finally {
            stations.forEach(ChildStation::close);
        }
    }

    /** A data folder whose station is known to the broker already. */
    private static String id(Path place, int number) throws IOException {
        String id = "evenwash-bench-" + number;
        Files.writeString(
                Files.createDirectories(place.resolve("data" + number)).resolve("station-id"), id);
        return id;
    }

    @Test
    void embeddedBroker_withBenchesThatSendAsFastAsTheyMay() throws Exception {
        say("### Intake: embedded broker and SQLite in one process, publisher on the same machine");
        double published;
        try (Mosquitto broker = Mosquitto.savingSeldom(folder.resolve("nobody-listens"))) {
            Backlog.subscribe(broker.address(), "away", null);
            long start = System.nanoTime();
            Backlog.publish(broker.address(), null, null, List.of("bench-1"), RECORDS);
            published = RECORDS / ((System.nanoTime() - start) / 1e9);
        }
        try (Station station = Station.start(StationConfig.inFolder(folder.resolve("embedded")))) {
            Awaitility.await().atMost(PATIENCE).until(station::isConnected);
            String password =
                    station.workplace().benches().admit("bench-1", "Bench", true, By.nobody());
            long start = System.nanoTime();
            Backlog.publish(
                    station.brokerAddress(), "bench-1", password, List.of("bench-1"), RECORDS);
            Awaitility.await().atMost(PATIENCE).until(() -> station.committed() >= RECORDS);
            double taken = RECORDS / ((System.nanoTime() - start) / 1e9);
            say(
                    "%.0f records/s into committed rows, %.2f of what the same publisher hands to Mosquitto alone",
                    taken, taken / published);
            assertThat(station.workplace().benches().missing("bench-1")).isEmpty();
        }
    }

    private Pace pace(String clientId, int records, Starter starter) throws Exception {
        Path place = Files.createDirectories(folder.resolve("run" + ++run));
        try (Mosquitto broker = Mosquitto.savingSeldom(place.resolve("mosquitto"))) {
            Backlog.subscribe(broker.address(), clientId, null);
            Backlog.publish(broker.address(), null, null, Backlog.benches(), records);
            try (Taker taker = starter.start(broker.address(), place)) {
                return untilAll(taker::rows, taker::cpu, records);
            }
        }
    }

    private long lost(String clientId, int records, Starter starter) throws Exception {
        Path place = Files.createDirectories(folder.resolve("run" + ++run));
        try (Mosquitto broker = Mosquitto.savingSeldom(place.resolve("mosquitto"))) {
            Backlog.subscribe(broker.address(), clientId, null);
            Backlog.publish(broker.address(), null, null, Backlog.benches(), records);
            try (Taker taker = starter.start(broker.address(), place)) {
                Awaitility.await()
                        .atMost(PATIENCE)
                        .pollInterval(Duration.ofMillis(20))
                        .until(() -> taker.rows() > records / 3);
                taker.killAndStartAgain();
                return records - settled(taker);
            }
        }
    }

    /** Different records once no more came for a while. */
    private static long settled(Taker taker) throws SQLException {
        long[] seen = {-1, System.nanoTime()};
        Awaitility.await()
                .atMost(PATIENCE)
                .pollInterval(Duration.ofMillis(200))
                .until(
                        () -> {
                            long rows = taker.rows();
                            if (rows != seen[0]) {
                                seen[0] = rows;
                                seen[1] = System.nanoTime();
                            }
                            long quiet_ns = System.nanoTime() - seen[1];
                            return quiet_ns > TimeUnit.SECONDS.toNanos(10);
                        });
        return taker.records();
    }

    private interface Count {
        long rows() throws SQLException;
    }

    private static Pace untilAll(Count count, Supplier<Duration> cpu, int records) {
        List<Mark> marks = new ArrayList<>();
        Awaitility.await()
                .atMost(PATIENCE)
                .pollInterval(Duration.ofMillis(100))
                .until(
                        () -> {
                            long rows = count.rows();
                            boolean isNext =
                                    marks.isEmpty()
                                            ? rows > 0
                                            : marks.size() == 1 && rows >= WARMING * records;
                            if (isNext) {
                                marks.add(new Mark(rows, System.nanoTime(), cpu.get().toNanos()));
                            }
                            return rows >= records;
                        });
        Mark end = new Mark(records, System.nanoTime(), cpu.get().toNanos());
        assertThat(marks).as("it took too little time to be told").hasSize(2);
        return new Pace(
                marks.get(0).perSecond(marks.get(1)),
                marks.get(1).perSecond(end),
                marks.get(1).cpu_us(end));
    }

    private record Mark(long rows, long clock_ns, long cpu_ns) {
        double perSecond(Mark later) {
            return (later.rows - rows) / ((later.clock_ns - clock_ns) / 1e9);
        }

        double cpu_us(Mark later) {
            return (later.cpu_ns - cpu_ns) / 1e3 / (later.rows - rows);
        }
    }

    private static long count(Database database) {
        return database.read(
                handle -> handle.createQuery("SELECT COUNT(*) FROM cycle").mapTo(Long.class).one());
    }

    private static final class OneStation implements Taker {
        private final Path data;
        private final String broker;
        private ChildStation station;

        OneStation(URI broker, Path place) throws IOException {
            this.broker = broker.toString();
            data = Files.createDirectories(place.resolve("data"));
            Files.writeString(data.resolve("station-id"), "evenwash-bench");
            station = new ChildStation(data, "--broker", this.broker);
        }

        @Override
        public long rows() throws SQLException {
            return asked(DataFolder.database(data), ROWS);
        }

        @Override
        public long records() throws SQLException {
            return asked(DataFolder.database(data), "SELECT COUNT(DISTINCT id) FROM cycle");
        }

        @Override
        public Duration cpu() {
            return station.cpu();
        }

        @Override
        public void killAndStartAgain() throws IOException {
            station.kill();
            station = new ChildStation(data, "--broker", broker);
        }

        @Override
        public void close() {
            station.close();
        }
    }

    private static List<String> script(URI broker, Path place) {
        return List.of(
                "/usr/bin/python3",
                "src/test/resources/rivals/intake.py",
                "" + broker.getPort(),
                file(place).toString());
    }

    private static List<String> pipe(URI broker, Path place) {
        String subscriber =
                "mosquitto_sub -p %d -V mqttv5 -i pipe -c -x 1000000 -q 1 -t evenwash/v1/+/cycle"
                        .formatted(broker.getPort());
        String statements = "sed -u \"s/'/''/g; s/.*/INSERT INTO cycle(record) VALUES('&');/\"";
        return List.of(
                "sh",
                "-c",
                "sqlite3 %2$s 'PRAGMA journal_mode = WAL; CREATE TABLE IF NOT EXISTS cycle (record TEXT)' && %1$s | %3$s | sqlite3 -cmd 'PRAGMA synchronous = FULL' %2$s"
                        .formatted(subscriber, file(place), statements));
    }

    private static Path file(Path place) {
        return place.resolve("rival.db");
    }

    private static final class Pipe implements Taker {
        private final List<String> command;
        private final Path file;
        private final Path log;
        private Process process;

        Pipe(List<String> command, Path place) throws IOException {
            this.command = command;
            this.file = file(place);
            this.log = place.resolve("rival.log");
            start();
        }

        private void start() throws IOException {
            process =
                    new ProcessBuilder(command)
                            .redirectErrorStream(true)
                            .redirectOutput(ProcessBuilder.Redirect.appendTo(log.toFile()))
                            .start();
        }

        @Override
        public long rows() throws SQLException {
            if (!process.isAlive()) {
                throw new AssertionError("it ended by itself: see " + log);
            }
            return asked(file, ROWS);
        }

        @Override
        public long records() throws SQLException {
            return asked(file, "SELECT COUNT(DISTINCT record) FROM cycle");
        }

        @Override
        public Duration cpu() {
            return Stream.concat(Stream.of(process.toHandle()), process.descendants())
                    .map(one -> one.info().totalCpuDuration().orElse(Duration.ZERO))
                    .reduce(Duration.ZERO, Duration::plus);
        }

        @Override
        public void killAndStartAgain() throws IOException {
            close();
            start();
        }

        @Override
        public void close() {
            process.descendants().forEach(ProcessHandle::destroyForcibly);
            process.destroyForcibly().onExit().join();
        }
    }

    private static long asked(Path file, String question) throws SQLException {
        if (!Files.exists(file)) {
            return 0;
        }
        try (var connection = DriverManager.getConnection("jdbc:sqlite:" + file);
                var statement = connection.createStatement();
                var tables =
                        statement.executeQuery(
                                "SELECT 1 FROM sqlite_master WHERE name = 'cycle'")) {
            if (!tables.next()) {
                return 0;
            }
            try (var answer = statement.executeQuery(question)) {
                return answer.getLong(1);
            }
        }
    }

    /** Medians, and between what the rounds lay; the share of the script's rate is of the same round. */
    private static void row(
            String name, List<Pace> paces, List<Pace> scripts, long lost, int records) {
        double[] shares = new double[paces.size()];
        for (int i = 0; i < shares.length; i++) {
            shares[i] = paces.get(i).perSecond() / scripts.get(i).perSecond();
        }
        Arrays.sort(shares);
        double[] rates = sorted(paces, Pace::perSecond);
        say(
                "| %s | %.0f | %.0f (%.0f–%.0f) | %.2f (%.2f–%.2f) | %.0f | %d of %d |",
                name,
                median(sorted(paces, Pace::coldPerSecond)),
                median(rates),
                rates[0],
                rates[rates.length - 1],
                median(shares),
                shares[0],
                shares[shares.length - 1],
                median(sorted(paces, Pace::cpu_us)),
                lost,
                records);
    }

    private static double[] sorted(List<Pace> paces, ToDoubleFunction<Pace> figure) {
        return paces.stream().mapToDouble(figure).sorted().toArray();
    }

    private static double median(double[] sorted) {
        return sorted[sorted.length / 2];
    }

    private static void say(String line, Object... values) {
        System.out.println(String.format(Locale.ROOT, line, values));
    }
}
