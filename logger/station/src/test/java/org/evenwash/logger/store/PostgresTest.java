package org.evenwash.logger.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.Appender;
import ch.qos.logback.core.read.ListAppender;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CyclicBarrier;
import javax.sql.DataSource;
import org.evenwash.logger.PostgresCluster;
import org.evenwash.logger.TestDatabase;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slf4j.LoggerFactory;

/** What is PostgreSQL's own: who may in, several writers at once, backups. */
class PostgresTest {
    @TempDir Path folder;
    private final PostgresCluster cluster = TestDatabase.cluster();

    private String guarded() {
        String url = TestDatabase.emptyPostgresql();
        return url.replaceFirst("\\?.*", "?user=" + PostgresCluster.GUARDED_USER);
    }

    @Test
    void passwordComesFromThePasswordFile() throws Exception {
        Path file =
                Files.writeString(
                        folder.resolve("passwords"),
                        "127.0.0.1:%d:*:%s:%s%n"
                                .formatted(
                                        cluster.port(),
                                        PostgresCluster.GUARDED_USER,
                                        PostgresCluster.PASSWORD));
        // The library's own name for what the environment calls PGPASSFILE.
        System.setProperty("org.postgresql.pgpassfile", file.toString());
        try (Database database = Database.open(guarded())) {
            assertThat(database.read(Operators::all)).isEmpty();
        } finally {
            System.clearProperty("org.postgresql.pgpassfile");
        }
    }

    @Test
    void userAndPasswordComeFromTheEnvironment_whereTheAddressHasNone() throws Exception {
        Map<String, String> environment =
                Map.of(
                        "PGUSER", PostgresCluster.GUARDED_USER,
                        "PGPASSWORD", PostgresCluster.PASSWORD);
        String url = guarded().replaceFirst("\\?.*", "");

        DataSource source = Postgres.source(url, environment::get);

        try (var connection = source.getConnection()) {
            assertThat(connection.getMetaData().getUserName())
                    .isEqualTo(PostgresCluster.GUARDED_USER);
        }
    }

    @Test
    void withoutAPassword_theTroubleIsNamed() {
        assertThatThrownBy(() -> Database.open(guarded()))
                .isInstanceOf(DatabaseTrouble.class)
                .hasMessageContaining("127.0.0.1:" + cluster.port())
                .hasMessageContaining("password");
    }

    @Test
    void passwordNeverStandsInALog_norInAMessage() {
        ListAppender<ILoggingEvent> log = new ListAppender<>();
        log.start();
        Logger root = (Logger) LoggerFactory.getLogger(org.slf4j.Logger.ROOT_LOGGER_NAME);
        Level before = root.getLevel();
        // Everything is listened to here, and would flood the build's own output.
        Appender<ILoggingEvent> console = root.getAppender("console");
        root.detachAppender(console);
        root.addAppender(log);
        root.setLevel(Level.TRACE);
        try {
            Database.open(guarded() + "&password=" + PostgresCluster.PASSWORD).close();
            String wrong = PostgresCluster.PASSWORD + "-wrong";
            assertThatThrownBy(() -> Database.open(guarded() + "&password=" + wrong))
                    .hasMessageNotContaining(wrong);
            String unreadable = "jdbc:postgresql://me:" + wrong + "@127.0.0.1/z";
            assertThatThrownBy(() -> Database.open(unreadable))
                    .isInstanceOf(DatabaseTrouble.class)
                    .hasMessageNotContaining(wrong)
                    .hasMessageContaining("PGPASSFILE");
        } finally {
            root.setLevel(before);
            root.detachAppender(log);
            root.addAppender(console);
        }
        assertThat(log.list).isNotEmpty();
        assertThat(log.list)
                .extracting(ILoggingEvent::getFormattedMessage)
                .noneMatch(message -> message.contains(PostgresCluster.PASSWORD));
    }

    @Test
    void writersThatReadBeforeTheyWrite_actAsIfOneCameAfterTheOther() {
        try (Database database = Database.open(TestDatabase.emptyPostgresql())) {
            int writers = 6;
            CyclicBarrier together = new CyclicBarrier(writers);
            List<CompletableFuture<Boolean>> all = new ArrayList<>();
            for (int writer = 0; writer < writers; writer++) {
                all.add(CompletableFuture.supplyAsync(() -> addTheOnlyOne(database, together)));
            }

            List<Boolean> added = all.stream().map(CompletableFuture::join).toList();

            assertThat(added).containsOnlyOnce(true);
            assertThat(database.read(Operators::all)).hasSize(1);
        }
    }

    /** Adds an operator unless there is one; two at once would both find none. */
    private static boolean addTheOnlyOne(Database database, CyclicBarrier together) {
        boolean[] first = {true};
        return database.write(
                handle -> {
                    boolean nobody = Operators.all(handle).isEmpty();
                    if (first[0]) {
                        first[0] = false;
                        meet(together);
                    }
                    if (nobody) {
                        UUID id = UUID.randomUUID();
                        Operators.insert(
                                handle, new Operator(id, "Operator " + id, true, Instant.EPOCH));
                    }
                    return nobody;
                });
    }

    private static void meet(CyclicBarrier together) {
        try {
            together.await(30, java.util.concurrent.TimeUnit.SECONDS);
        } catch (Exception e) { // several kinds, all the end of this test
            throw new AssertionError("the writers never met", e);
        }
    }

    @Test
    void appendersInOppositeOrder_bothGetThrough() {
        try (Database database = Database.open(TestDatabase.emptyPostgresql())) {
            CyclicBarrier together = new CyclicBarrier(2);
            var one = CompletableFuture.runAsync(() -> appendBoth(database, together, "a", "b"));
            var other = CompletableFuture.runAsync(() -> appendBoth(database, together, "b", "a"));
            CompletableFuture.allOf(one, other).join();

            assertThat(database.fact("a")).isPresent();
            assertThat(database.fact("b")).isPresent();
        }
    }

    /** Each holds what the other wants next: PostgreSQL breaks the deadlock by undoing one. */
    private static void appendBoth(
            Database database, CyclicBarrier together, String first, String second) {
        boolean[] fresh = {true};
        database.append(
                handle -> {
                    Database.setFact(handle, first, "here");
                    if (fresh[0]) {
                        fresh[0] = false;
                        meet(together);
                    }
                    Database.setFact(handle, second, "here");
                    return true;
                });
    }

    @Test
    void backup_saysWhichProgramDoesIt() {
        try (Database database =
                Database.open(
                        TestDatabase.emptyPostgresql() + "&password=" + PostgresCluster.PASSWORD)) {
            assertThatThrownBy(() -> Backups.write(database, folder.resolve("all.dump")))
                    .isInstanceOf(DatabaseTrouble.class)
                    .hasMessageContaining("pg_dump --format=custom --file=" + folder)
                    .hasMessageContaining("postgresql://127.0.0.1:" + cluster.port() + "/")
                    .hasMessageNotContaining(PostgresCluster.PASSWORD);
        }
    }
}
