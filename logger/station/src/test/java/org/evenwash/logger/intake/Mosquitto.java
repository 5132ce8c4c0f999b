package org.evenwash.logger.intake;

import static java.util.concurrent.TimeUnit.SECONDS;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;

/** A real Mosquitto on a loopback port of its own, stopped by its own process handle. */
final class Mosquitto implements AutoCloseable {
    private static final String PROGRAM = "/usr/sbin/mosquitto";

    /** As Debian's, but that every message is kept. */
    private static final String OPEN =
            """
            listener 1883 127.0.0.1
            allow_anonymous true
            persistence true
            autosave_interval 1
            autosave_on_changes true
            max_queued_messages 0
            max_inflight_messages 1000
            """;

    private final Path folder;
    private final String settings;
    private final int port;
    private Process process;

    Mosquitto(Path folder) throws IOException {
        this(folder, OPEN);
    }

    /** With Debian's own persistence, every half hour: what it loses when killed the benches offer again. */
    static Mosquitto savingSeldom(Path folder) throws IOException {
        return new Mosquitto(
                folder, OPEN.replaceAll("autosave_interval 1\\n|autosave_on_changes true\\n", ""));
    }

    /**
     * @param settings with Mosquitto's usual port on loopback, for which a free one is taken
     */
    Mosquitto(Path folder, String settings) throws IOException {
        this.settings = settings;
        if (!Files.isExecutable(Path.of(PROGRAM))) {
            throw new AssertionError("this test needs Mosquitto; run .ci/provision first");
        }
        this.folder = folder;
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            port = socket.getLocalPort();
        }
        start();
    }

    void start() throws IOException {
        Files.createDirectories(folder);
        Path file = folder.resolve("mosquitto.conf");
        Files.writeString(
                file,
                settings.replace("listener 1883 ", "listener " + port + " ")
                        + """
                        persistence_location %s/
                        user root
                        """
                                .formatted(folder));
        process =
                new ProcessBuilder(PROGRAM, "-c", file.toString())
                        .redirectErrorStream(true)
                        .redirectOutput(
                                ProcessBuilder.Redirect.appendTo(
                                        folder.resolve("mosquitto.log").toFile()))
                        .start();
        await("Mosquitto").atMost(15, SECONDS).until(this::listens);
    }

    private boolean listens() {
        try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), port)) {
            return socket.isConnected();
        } catch (IOException e) {
            return false;
        }
    }

    URI address() {
        return URI.create("mqtt://127.0.0.1:" + port);
    }

    /** As {@code systemctl reload} would. */
    void readFilesAgain() throws IOException {
        new ProcessBuilder("kill", "-HUP", Long.toString(process.pid())).start().onExit().join();
    }

    /** As a power cut would: nothing is written any more. */
    void kill() {
        process.destroyForcibly().onExit().join();
    }

    @Override
    public void close() {
        process.destroy();
        process.onExit()
                .orTimeout(5, SECONDS)
                .exceptionally(late -> process.destroyForcibly())
                .join();
    }
}
