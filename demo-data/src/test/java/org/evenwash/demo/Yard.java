package org.evenwash.demo;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.awaitility.Awaitility;

/** One bench, one broker and one logger, each a process of its own on loopback. */
final class Yard implements AutoCloseable {
    static final String BENCH = "shed-1";

    private final Path folder;
    private final boolean mosquitto;
    private final String recipe;
    private final int port;
    private Program broker;
    private Program logger;
    private Program controller;

    Yard(Path folder, boolean mosquitto, String recipe) throws IOException {
        this.folder = folder;
        this.mosquitto = mosquitto;
        this.recipe = recipe;
        this.port = freePort();
        if (mosquitto) {
            startBroker();
        }
        startLogger();
        writeSettings();
    }

    private static int freePort() throws IOException {
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            return socket.getLocalPort();
        }
    }

    /** With Debian's default persistence: the outbox must make up for what that loses. */
    void startBroker() throws IOException {
        Path data = Files.createDirectories(folder.resolve("mosquitto"));
        Path settings = folder.resolve("mosquitto.conf");
        Files.writeString(
                settings,
                """
                listener %d 127.0.0.1
                allow_anonymous true
                persistence true
                persistence_location %s/
                user root
                """
                        .formatted(port, data));
        broker =
                Program.start(
                        "mosquitto", List.of("/usr/sbin/mosquitto", "-c", settings.toString()));
        Awaitility.await("mosquitto to listen")
                .atMost(Duration.ofSeconds(30))
                .ignoreExceptions()
                .until(
                        () -> {
                            new Socket(InetAddress.getLoopbackAddress(), port).close();
                            return true;
                        });
    }

    void startLogger() {
        List<String> arguments =
                new ArrayList<>(List.of("serve", "--data", loggerFolder().toString()));
        arguments.addAll(
                mosquitto
                        ? List.of("--broker", "mqtt://127.0.0.1:" + port)
                        : List.of("--broker-port", String.valueOf(port)));
        arguments.addAll(List.of("--port", "0"));
        logger = Program.jar(Program.LOGGER, arguments.toArray(String[]::new));
        logger.await("Benches connect");
    }

    private void writeSettings() throws IOException {
        String login = "";
        if (!mosquitto) {
            Path password = folder.resolve("password");
            try (Program admit =
                    Program.jar(
                            Program.LOGGER,
                            "admit-bench",
                            "--data",
                            loggerFolder().toString(),
                            "--simulated",
                            BENCH)) {
                String line = admit.await("Bench " + BENCH);
                Files.writeString(password, line.substring(line.lastIndexOf(' ') + 1));
            }
            login = "  user: %s%n  passwordFile: %s%n".formatted(BENCH, password);
        }
        Files.writeString(
                folder.resolve("bench.yaml"),
                """
                bench:
                  id: %s
                  recipe: %s
                broker:
                  host: 127.0.0.1
                  port: %d
                %s"""
                        .formatted(BENCH, recipe, port, login));
    }

    void startController() {
        controller =
                Program.jar(
                        Program.CONTROLLER,
                        "run",
                        "--simulate",
                        "--speed",
                        "20",
                        "--script",
                        "-",
                        "--config",
                        folder.resolve("bench.yaml").toString(),
                        "--data",
                        folder.resolve("bench").toString());
        controller.say("ack").await("> ack");
    }

    /** A jar is put in and a cycle begins. */
    void begin() {
        controller
                .say("reset")
                .say("change-jar")
                .say("pause 1")
                .say("start")
                .say("wait running 60");
        controller.await("> wait running");
    }

    /**
     * The cycle has begun as far as its record goes: its start marker is synced, so the motor may turn. Before that a
     * kill leaves no cycle, and none is owed.
     */
    void awaitStartMarker() {
        Awaitility.await("the start marker of the cycle")
                .atMost(Duration.ofSeconds(60))
                .until(() -> !column(outbox(), "SELECT cycle_id FROM draft").isEmpty());
    }

    /** The cycle runs to its end and the jar is taken out. */
    void finish() {
        controller.say("wait complete 600").say("open-lid").say("pause 1").say("remove-jar");
        controller.await("> remove-jar");
    }

    void killController() {
        controller.kill();
    }

    void killLogger() {
        logger.kill();
    }

    void killBroker() {
        broker.kill();
    }

    Path outbox() {
        return folder.resolve("bench/outbox.db");
    }

    Path loggerFolder() {
        return folder.resolve("logger");
    }

    Path database() {
        return loggerFolder().resolve("evenwash.db");
    }

    /** First column of each row, as text. */
    static List<String> column(Path database, String sql) throws SQLException {
        List<String> rows = new ArrayList<>();
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + database);
                Statement statement = connection.createStatement();
                ResultSet result = statement.executeQuery(sql)) {
            while (result.next()) {
                rows.add(result.getString(1));
            }
        }
        return rows;
    }

    String story() {
        return "controller:\n" + controller.all() + "\nlogger:\n" + logger.tail();
    }

    @Override
    public void close() {
        for (Program program : new Program[] {controller, logger, broker}) {
            if (program != null) {
                program.close();
            }
        }
    }
}
