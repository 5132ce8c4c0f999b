package org.evenwash.demo;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
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
import java.util.concurrent.ThreadLocalRandom;
import org.awaitility.Awaitility;

/** One bench, one broker and one logger, each a process of its own on loopback. */
final class Yard implements AutoCloseable {
    static final String BENCH = "shed-1";
    private static final String READY = "Benches connect";
    static final String PAGES = "Pages at ";

    /** How a logger ends whose own broker stopped. */
    static final int BROKER_STOPPED = 4;

    private static final String MOSQUITTO = "/usr/sbin/mosquitto";

    private final Path folder;
    private final SetUp setUp;
    private final String recipe;
    private final int port;
    private final Proxy benchLine;
    private final Proxy loggerLine;
    private Program broker;
    private Program logger;
    private Program controller;
    private URI pages;

    Yard(Path folder, SetUp setUp, String recipe) throws IOException {
        this.folder = folder;
        this.setUp = setUp;
        this.recipe = recipe;
        this.port = freePort();
        this.benchLine = new Proxy(port);
        this.loggerLine = new Proxy(port);
    }

    /** Broker and logger come up, and the bench is let in. */
    Yard open() throws IOException {
        if (setUp.mosquitto()) {
            startBroker();
        }
        startLogger();
        writeSettings();
        return this;
    }

    /**
     * Below the range that the kernel gives to outgoing connections: a port of a killed program must
     * not be taken by one of these before the program is back.
     */
    static int freePort() {
        while (true) {
            int port = ThreadLocalRandom.current().nextInt(12_000, 32_000);
            try (ServerSocket socket =
                    new ServerSocket(port, 1, InetAddress.getLoopbackAddress())) {
                return socket.getLocalPort();
            } catch (IOException taken) {
                // The next one, then.
            }
        }
    }

    void startBroker() throws IOException {
        Files.createDirectories(brokerFolder());
        Path settings = folder.resolve("mosquitto.conf");
        Files.writeString(
                settings,
                """
                listener %d 127.0.0.1
                allow_anonymous true
                persistence_location %s/
                user root
                %s"""
                        .formatted(port, brokerFolder(), setUp.persistence()));
        broker = Program.start("mosquitto", List.of(MOSQUITTO, "-c", settings.toString()));
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
        if (!loggerStarts()) {
            throw new AssertionError("the logger ended:\n" + logger.tail());
        }
    }

    /** As its unit has it done: it ends by itself, with a code of its own, when the embedded broker does. */
    void startLoggerIfItsBrokerStopped() {
        if (!logger.isAlive()) {
            if (logger.awaitExit() != BROKER_STOPPED) {
                throw new AssertionError("the logger ended:\n" + logger.tail());
            }
            startLogger();
        }
    }

    /** False when it ended instead; its last words then say why. */
    boolean loggerStarts() {
        List<String> arguments =
                new ArrayList<>(List.of("serve", "--data", loggerFolder().toString()));
        arguments.addAll(
                setUp.mosquitto()
                        ? List.of("--broker", "mqtt://127.0.0.1:" + loggerLine.port())
                        : List.of("--broker-port", String.valueOf(port)));
        arguments.addAll(List.of("--port", "0"));
        logger =
                Files.exists(loggerClock())
                        ? SteppedLogger.program(loggerClock(), arguments)
                        : Shipped.LOGGER.start(arguments.toArray(String[]::new));
        if (!logger.awaitOrEnd(READY)) {
            return false;
        }
        pages = URI.create(logger.await(PAGES).substring(PAGES.length()));
        return true;
    }

    /** Asks the logger for a page, as a browser on its machine. */
    int statusOf(String path) {
        try {
            return HttpClient.newHttpClient()
                    .send(
                            HttpRequest.newBuilder(pages.resolve(path))
                                    .timeout(Duration.ofMinutes(1))
                                    .build(),
                            HttpResponse.BodyHandlers.discarding())
                    .statusCode();
        } catch (IOException e) {
            throw new UncheckedIOException("no answer from " + pages.resolve(path), e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new AssertionError("interrupted while asking for " + path, e);
        }
    }

    /** Runs another command of the logger on its data folder, to its end. */
    Program loggerCommand(String... arguments) {
        Program command = beginLoggerCommand(arguments);
        if (command.awaitExit() != 0) {
            throw new AssertionError(String.join(" ", arguments) + " failed:\n" + command.tail());
        }
        return command;
    }

    Program beginLoggerCommand(String... arguments) {
        List<String> all = new ArrayList<>(List.of(arguments));
        all.addAll(1, List.of("--data", loggerFolder().toString()));
        return Shipped.LOGGER.start(all.toArray(String[]::new));
    }

    /** Runs another command of the controller on its data folder, to its end. */
    Program controllerCommand(String command) {
        Program program = Shipped.CONTROLLER.start(command, "--data", benchFolder().toString());
        if (program.awaitExit() != 0) {
            throw new AssertionError(command + " failed:\n" + program.tail());
        }
        program.awaitOrEnd("(never said)");
        return program;
    }

    private void writeSettings() throws IOException {
        String login = "";
        if (!setUp.mosquitto()) {
            Path password = folder.resolve("password");
            Program admit = loggerCommand("admit-bench", "--simulated", BENCH);
            String line = admit.await("Bench " + BENCH);
            Files.writeString(password, line.substring(line.lastIndexOf(' ') + 1));
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
                        .formatted(BENCH, recipe, benchLine.port(), login));
    }

    void startController() {
        if (!controllerStarts()) {
            throw new AssertionError("the controller ended:\n" + controller.tail());
        }
    }

    /** False when it ended instead. */
    boolean controllerStarts() {
        controller =
                Shipped.CONTROLLER.start(
                        "run",
                        "--simulate",
                        "--speed",
                        "20",
                        "--script",
                        "-",
                        "--config",
                        folder.resolve("bench.yaml").toString(),
                        "--data",
                        benchFolder().toString());
        boolean started = controller.awaitOrEnd("IDLE");
        if (started) {
            controller.say("ack").await("> ack");
        }
        return started;
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

    Program controller() {
        return controller;
    }

    Program logger() {
        return logger;
    }

    Program broker() {
        return broker;
    }

    /** Between the bench and the broker. */
    Proxy benchLine() {
        return benchLine;
    }

    /** Between an outside broker and the logger. */
    Proxy loggerLine() {
        return loggerLine;
    }

    Path benchFolder() {
        return folder.resolve("bench");
    }

    Path outbox() {
        return benchFolder().resolve("outbox.db");
    }

    Path brokerFolder() {
        return folder.resolve("mosquitto");
    }

    Path loggerFolder() {
        return folder.resolve("logger");
    }

    /** When this file is there, the logger's clock is off by the seconds it holds. */
    Path loggerClock() {
        return folder.resolve("logger-clock");
    }

    Path database() {
        return loggerFolder().resolve("evenwash.db");
    }

    Path folder() {
        return folder;
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
        return "controller:\n" + tail(controller) + "\nlogger:\n" + tail(logger);
    }

    private static String tail(Program program) {
        return program == null ? "(not started)" : program.tail();
    }

    @Override
    public void close() throws IOException {
        for (Program program : new Program[] {controller, logger, broker}) {
            if (program != null) {
                program.close();
            }
        }
        benchLine.close();
        loggerLine.close();
    }
}
