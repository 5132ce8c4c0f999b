package org.evenwash.logger.store;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static java.util.concurrent.TimeUnit.SECONDS;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.Appender;
import ch.qos.logback.core.read.ListAppender;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CyclicBarrier;
import javax.sql.DataSource;
import org.evenwash.logger.PostgresCluster;
import org.evenwash.logger.TestDatabase;
import org.evenwash.logger.tls.Authority;
import org.evenwash.logger.tls.Authority.Server;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.postgresql.ds.PGSimpleDataSource;
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
    void beyondThisMachine_theServerHasToShowACertificate() {
        for (String host : List.of("127.0.0.1", "localhost", "127.0.0.1:5433,localhost")) {
            assertThat(sslMode(host, "")).as(host).isNull();
        }
        for (String host : List.of("192.0.2.1", "127.0.0.1,192.0.2.1:5433", "nobody.invalid")) {
            assertThat(sslMode(host, "")).as(host).isEqualTo("verify-full");
            assertThat(sslMode(host, "&sslmode=verify-ca")).isEqualTo("verify-ca");
            for (String mode : List.of("disable", "allow", "prefer", "require")) {
                assertThatThrownBy(() -> sslMode(host, "&sslmode=" + mode))
                        .isInstanceOf(DatabaseTrouble.class)
                        .hasMessageContainingAll("sslmode=" + mode, "sslrootcert=FILE");
            }
        }
    }

    private static String sslMode(String host, String more) {
        String url = "jdbc:postgresql://" + host + "/z?user=a" + more;
        return ((PGSimpleDataSource) Postgres.source(url, name -> null)).getSslMode();
    }

    /** What an impostor tries: "I speak no TLS", then "send the password in clear". */
    @Test
    void serverThatSpeaksNoTls_isToldNoPassword_whereACertificateIsAskedFor() throws Exception {
        try (ServerSocket impostor = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            CompletableFuture<String> heard =
                    CompletableFuture.supplyAsync(() -> hearOnce(impostor));
            String url =
                    "jdbc:postgresql://127.0.0.1:%d/z?user=a&password=%s&sslmode=verify-full"
                            .formatted(impostor.getLocalPort(), PostgresCluster.PASSWORD);

            assertThatThrownBy(() -> Postgres.source(url, name -> null).getConnection())
                    .hasMessageContaining("SSL");

            assertThat(heard.get(30, SECONDS)).doesNotContain(PostgresCluster.PASSWORD);
        }
    }

    private static String hearOnce(ServerSocket impostor) {
        try (Socket caller = impostor.accept()) {
            InputStream in = caller.getInputStream();
            byte[] asksForTls = in.readNBytes(8);
            caller.getOutputStream().write('N');
            caller.getOutputStream()
                    .write(new byte[] {'R', 0, 0, 0, 8, 0, 0, 0, 3}); // a password in clear, please
            caller.getOutputStream().flush();
            return new String(asksForTls, ISO_8859_1) + new String(in.readAllBytes(), ISO_8859_1);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Test
    void certificateOfOurOwnAuthority_serves() throws Exception {
        Authority authority = new Authority(folder, Clock.systemUTC());
        authority.create("the yard");
        authority.issue(Server.WEB, Set.of("127.0.0.1"));
        cluster.speakTls(Server.WEB.certificate(folder), Server.WEB.key(folder));
        String url = guarded() + "&password=" + PostgresCluster.PASSWORD + "&sslmode=verify-full";

        try (Database database = Database.open(url + "&sslrootcert=" + authority.trust())) {
            boolean encrypted =
                    database.read(
                            handle ->
                                    handle.createQuery(
                                                    "SELECT ssl FROM pg_stat_ssl WHERE pid = pg_backend_pid()")
                                            .mapTo(Boolean.class)
                                            .one());
            assertThat(encrypted).isTrue();
        }
        Authority another = new Authority(folder.resolve("another"), Clock.systemUTC());
        another.create("somebody else");
        assertThatThrownBy(() -> Database.open(url + "&sslrootcert=" + another.trust()))
                .isInstanceOf(DatabaseTrouble.class)
                .hasMessageNotContaining(PostgresCluster.PASSWORD);
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
