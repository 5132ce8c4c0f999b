package org.evenwash.controller;

import static org.assertj.core.api.Assertions.fail;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import org.awaitility.Awaitility;

/** A real broker on loopback, stopped by its own process. */
final class Mosquitto implements AutoCloseable {
    private final Path configuration;
    private final int port;
    private Process process;

    private Mosquitto(Path folder) throws IOException {
        try (ServerSocket free = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            port = free.getLocalPort();
        }
        configuration = folder.resolve("mosquitto.conf");
        Files.writeString(
                configuration,
                """
                listener %d 127.0.0.1
                allow_anonymous true
                persistence false
                max_queued_messages 0
                log_dest file %s
                """
                        .formatted(port, folder.resolve("mosquitto.log")));
    }

    static Mosquitto start(Path folder) throws IOException {
        Mosquitto broker = new Mosquitto(folder);
        broker.start();
        return broker;
    }

    int port() {
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
    void kill() {
        process.destroyForcibly();
        Awaitility.await().atMost(Duration.ofSeconds(5)).until(() -> !process.isAlive());
    }

    @Override
    public void close() {
        kill();
    }
}
