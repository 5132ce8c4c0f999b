package org.evenwash.controller;

import static org.assertj.core.api.Assertions.fail;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.awaitility.Awaitility;

/** A real broker on loopback, stopped by its own process. */
public final class Mosquitto implements AutoCloseable {
    private final Path configuration;
    private final int port;
    private Process process;

    private Mosquitto(Path folder, List<String> more) throws IOException {
        port = freePort();
        configuration = folder.resolve("mosquitto.conf");
        Files.writeString(
                configuration,
                """
                per_listener_settings true
                persistence false
                max_queued_messages 0
                max_inflight_messages 1000
                user %s
                log_dest file %s
                listener %d 127.0.0.1
                allow_anonymous true
                %s
                """
                        .formatted(
                                System.getProperty("user.name"),
                                folder.resolve("mosquitto.log"),
                                port,
                                String.join("\n", more)));
    }

    /** One listener that lets everybody in. */
    public static Mosquitto start(Path folder) throws IOException {
        return start(folder, List.of());
    }

    /**
     * @param more lines after those of the open listener: rules for it, or another listener
     */
    public static Mosquitto start(Path folder, List<String> more) throws IOException {
        Mosquitto broker = new Mosquitto(folder, more);
        broker.start();
        return broker;
    }

    /** A port of loopback that was free a moment ago. */
    public static int freePort() throws IOException {
        try (ServerSocket free = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            return free.getLocalPort();
        }
    }

    public int port() {
        return port;
    }

    void start() throws IOException {
        try {
            process = new ProcessBuilder("mosquitto", "-c", configuration.toString()).start();
        } catch (IOException e) {
            fail("mosquitto is needed: run .ci/provision first (%s)", e.getMessage());
        }
        Awaitility.await()
                .atMost(Duration.ofSeconds(10))
                .pollInterval(Duration.ofMillis(20))
                .until(this::answers);
    }

    private boolean answers() {
        try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), port)) {
            return socket.isConnected();
        } catch (IOException e) {
            return false;
        }
    }

    /** As a power cut would end it. */
    public void kill() {
        process.destroyForcibly();
        Awaitility.await().atMost(Duration.ofSeconds(5)).until(() -> !process.isAlive());
    }

    @Override
    public void close() {
        kill();
    }
}
