package org.evenwash.logger;

import static java.nio.charset.StandardCharsets.UTF_8;
import static java.util.concurrent.TimeUnit.SECONDS;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.nio.file.attribute.UserPrincipal;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

/**
 * A PostgreSQL of Debian's package on a loopback port and in a temporary folder of its own. It ends with the
 * process that started it, however that ends.
 */
public final class PostgresCluster implements AutoCloseable {
    /** May do anything and needs no password. */
    public static final String USER = "evenwash";

    /** May do anything too, but is asked for {@link #PASSWORD}. */
    public static final String GUARDED_USER = "guarded";

    public static final String PASSWORD = "tell-nobody-7";

    private static final Path VERSIONS = Path.of("/usr/lib/postgresql");

    /** PostgreSQL refuses to run as root; Debian's package makes this user for it. */
    private static final String UNPRIVILEGED = "postgres";

    /** Waits until its input is closed, as it is when the process that holds the other end is gone. */
    private static final String UNTIL_LET_GO =
            """
            "$1/postgres" -D "$2/data" >"$2/log" 2>&1 &
            cat >/dev/null
            "$1/pg_ctl" -D "$2/data" -m immediate stop >/dev/null
            wait
            rm -rf "$2"
            """;

    private final Path folder;
    private final int port;
    private final Process process;

    private PostgresCluster(boolean durable) throws IOException {
        Path programs = programs();
        folder = Files.createTempDirectory("evenwash-postgresql");
        if (isRoot()) {
            Files.setOwner(
                    folder,
                    folder.getFileSystem()
                            .getUserPrincipalLookupService()
                            .lookupPrincipalByName(UNPRIVILEGED));
        }
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            port = socket.getLocalPort();
        }
        run(
                programs.resolve("initdb").toString(),
                "--no-sync",
                "--no-locale",
                "--encoding=UTF8",
                "--username=" + USER,
                "--auth=trust",
                "--pgdata=" + folder.resolve("data"));
        Files.writeString(folder.resolve("data/postgresql.conf"), settings(durable));
        Files.writeString(
                folder.resolve("data/pg_hba.conf"),
                """
                host all %s 127.0.0.1/32 scram-sha-256
                host all all 127.0.0.1/32 trust
                """
                        .formatted(GUARDED_USER));
        process =
                new ProcessBuilder(
                                unprivileged(
                                        "sh",
                                        "-c",
                                        UNTIL_LET_GO,
                                        "sh",
                                        programs.toString(),
                                        folder.toString()))
                        .start();
        await("PostgreSQL: see " + folder.resolve("log")).atMost(60, SECONDS).until(this::answers);
        execute("CREATE ROLE " + GUARDED_USER + " SUPERUSER LOGIN PASSWORD '" + PASSWORD + "'");
    }

    /** For tests: quick, and gone after a power cut. */
    public static PostgresCluster start() {
        return start(false);
    }

    /** For measuring: a commit is on the disk when it is answered, as in production. */
    public static PostgresCluster startDurable() {
        return start(true);
    }

    private static PostgresCluster start(boolean durable) {
        try {
            return new PostgresCluster(durable);
        } catch (IOException e) {
            throw new UncheckedIOException("cannot start PostgreSQL", e);
        }
    }

    private static Path programs() throws IOException {
        if (Files.isDirectory(VERSIONS)) {
            try (Stream<Path> versions = Files.list(VERSIONS)) {
                var newest =
                        versions.map(version -> version.resolve("bin"))
                                .filter(bin -> Files.isExecutable(bin.resolve("postgres")))
                                .max(Comparator.naturalOrder());
                if (newest.isPresent()) {
                    return newest.get();
                }
            }
        }
        throw new AssertionError("this test needs PostgreSQL; run .ci/provision first");
    }

    private String settings(boolean durable) {
        String settings =
                """
                listen_addresses = '127.0.0.1'
                port = %d
                unix_socket_directories = ''
                max_connections = 300
                """
                        .formatted(port);
        return durable
                ? settings
                : settings + "fsync = off\nsynchronous_commit = off\nfull_page_writes = off\n";
    }

    private static boolean isRoot() {
        return "root".equals(System.getProperty("user.name"));
    }

    private static List<String> unprivileged(String... command) {
        List<String> whole = new ArrayList<>();
        if (isRoot()) {
            whole.addAll(
                    List.of(
                            "setpriv",
                            "--reuid=" + UNPRIVILEGED,
                            "--regid=" + UNPRIVILEGED,
                            "--clear-groups"));
        }
        whole.addAll(List.of(command));
        return whole;
    }

    private static void run(String... command) throws IOException {
        Process once = new ProcessBuilder(unprivileged(command)).redirectErrorStream(true).start();
        String said = new String(once.getInputStream().readAllBytes(), UTF_8);
        if (once.onExit().join().exitValue() != 0) {
            throw new IOException(command[0] + " failed: " + said);
        }
    }

    private boolean answers() {
        try (Connection connection = DriverManager.getConnection(url("postgres"))) {
            return connection.isValid(5);
        } catch (SQLException e) {
            return false; // it is still starting
        }
    }

    /** Address of a database of the cluster, for the user who needs no password. */
    public String url(String database) {
        return urlWithoutUser(database) + "?user=" + USER;
    }

    public String urlWithoutUser(String database) {
        return "jdbc:postgresql://127.0.0.1:" + port + "/" + database;
    }

    public int port() {
        return port;
    }

    /** Runs a statement that concerns the whole cluster, such as CREATE DATABASE. */
    public void execute(String sql) {
        try (Connection connection = DriverManager.getConnection(url("postgres"));
                Statement statement = connection.createStatement()) {
            statement.execute(sql);
        } catch (SQLException e) {
            throw new AssertionError(sql, e);
        }
    }

    /** Answers by TLS too from now on, whoever asks for it. */
    public void speakTls(Path certificate, Path key) throws IOException {
        Path data = folder.resolve("data");
        UserPrincipal owner = Files.getOwner(data);
        for (var file : Map.of(certificate, "server.crt", key, "server.key").entrySet()) {
            Path copy = Files.copy(file.getKey(), data.resolve(file.getValue()));
            Files.setPosixFilePermissions(copy, PosixFilePermissions.fromString("rw-------"));
            Files.setOwner(copy, owner);
        }
        execute("ALTER SYSTEM SET ssl = on");
        execute("SELECT pg_reload_conf()");
        await().atMost(30, SECONDS).until(this::saysThatItSpeaksTls);
    }

    private boolean saysThatItSpeaksTls() throws SQLException {
        try (Connection connection = DriverManager.getConnection(url("postgres"));
                Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery("SHOW ssl")) {
            return row.next() && "on".equals(row.getString(1));
        }
    }

    @Override
    public void close() {
        try {
            process.getOutputStream().close();
        } catch (IOException e) {
            throw new UncheckedIOException("cannot let go of PostgreSQL", e);
        }
        process.onExit()
                .orTimeout(30, SECONDS)
                .exceptionally(late -> process.destroyForcibly())
                .join();
    }
}
