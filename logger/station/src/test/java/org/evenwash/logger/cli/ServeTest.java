package org.evenwash.logger.cli;

import static java.util.concurrent.TimeUnit.SECONDS;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.evenwash.logger.intake.PlainBench;
import org.evenwash.record.Topics;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** {@code serve} as a process of its own: what it says and how it ends. */
class ServeTest {
    private static final String SECRET = "never-to-be-seen-4711";

    @TempDir Path folder;
    private Process process;
    private Path log;

    @AfterEach
    void end() {
        if (process != null) {
            process.destroyForcibly().onExit().join();
        }
    }

    @Test
    void jsonLog_isOneObjectALine_alsoAtTheStart_andHoldsNoPassword() throws Exception {
        Path password = Files.writeString(folder.resolve("broker.password"), SECRET);
        serve(
                "--json-log",
                "--broker",
                "mqtt://Station@127.0.0.1:" + closedPort(),
                "--broker-password-file",
                password.toString());
        awaitSaid("Pages at");
        awaitSaid("\"WARN\""); // there is no broker
        process.destroy();
        assertThat(process.waitFor(60, SECONDS)).isTrue();

        List<JsonNode> events = new ArrayList<>();
        for (String line : Files.readAllLines(log)) {
            events.add(new ObjectMapper().readTree(line));
        }
        assertThat(events)
                .hasSizeGreaterThan(3)
                .allSatisfy(
                        event -> {
                            assertThat(event.path("timestamp").asLong())
                                    .isBetween(
                                            System.currentTimeMillis() - 600_000,
                                            System.currentTimeMillis());
                            assertThat(event.path("level").asText()).isIn("INFO", "WARN");
                            assertThat(event.path("loggerName").asText()).isNotBlank();
                            assertThat(event.path("formattedMessage").asText()).isNotBlank();
                        });
        assertThat(Files.readString(log)).doesNotContain(SECRET);
    }

    /** The broker's folder vanishes as with a disk that is pulled out: the next file it needs cannot be made. */
    @Test
    void brokerThatStopsItself_endsTheLogger_withOneSentence_andCode4() throws Exception {
        Path data = folder.resolve("data");
        int port = closedPort();
        serve("--broker-port", Integer.toString(port));
        awaitSaid("Pages at");
        Run admitted = Run.of("admit-bench", "--data", data.toString(), "--simulated", "shed-1");
        String password = admitted.out().lines().findFirst().orElseThrow().replaceAll(".* ", "");
        PlainBench bench =
                new PlainBench(URI.create("mqtt://127.0.0.1:" + port), "shed-1", password);
        Path large = data.resolve("broker/large");
        delete(large);
        Files.createFile(large);
        try {
            bench.say(Topics.of("shed-1", Topics.Kind.CYCLE), new byte[900_000], false);
        } catch (MqttException expected) {
            assertThat(expected).isNotNull(); // nobody answers any more
        }

        assertThat(process.waitFor(60, SECONDS)).as(Files.readString(log)).isTrue();
        assertThat(process.exitValue()).isEqualTo(ExitCode.BROKER_STOPPED);
        assertThat(Files.readString(log))
                .contains("The logger ends: the embedded broker cannot write to")
                .contains("Benches keep their records");
    }

    @Test
    void brokersPortInUse_isOneSentence_andCode1() throws Exception {
        try (ServerSocket other = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            serve("--broker-port", Integer.toString(other.getLocalPort()));
            assertThat(process.waitFor(120, SECONDS)).isTrue();
            assertThat(process.exitValue()).isEqualTo(ExitCode.SURROUNDINGS);
            assertThat(Files.readAllLines(log))
                    .as("one sentence, no trace")
                    .singleElement()
                    .asString()
                    .startsWith("the broker cannot listen on port " + other.getLocalPort())
                    .endsWith("Choose one with --broker-port");
        }
    }

    private void serve(String... options) throws IOException {
        log = folder.resolve("serve.log");
        List<String> command =
                new ArrayList<>(
                        List.of(
                                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                                "-XX:TieredStopAtLevel=1",
                                "-Dlogback.configurationFile=logback.xml",
                                "-cp",
                                System.getProperty("java.class.path"),
                                Main.class.getName(),
                                "serve",
                                "--data",
                                folder.resolve("data").toString(),
                                "--port",
                                "0"));
        command.addAll(List.of(options));
        process =
                new ProcessBuilder(command)
                        .redirectErrorStream(true)
                        .redirectOutput(log.toFile())
                        .start();
    }

    private void awaitSaid(String words) {
        await(words)
                .atMost(180, SECONDS)
                .until(() -> !process.isAlive() || Files.readString(log).contains(words));
        assertThat(log).content().contains(words);
    }

    private static int closedPort() throws IOException {
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            return socket.getLocalPort();
        }
    }

    private static void delete(Path folder) throws IOException {
        try (var files = Files.list(folder)) {
            for (Path file : files.toList()) {
                Files.delete(file);
            }
        }
        Files.delete(folder);
    }
}
