package org.evenwash.controller;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.TimeUnit;
import org.awaitility.Awaitility;
import org.evenwash.record.BenchState;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Outcome;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The jar itself, as people start it. */
class ProgramIT {
    private static final Path JAR = Path.of("target/evenwash-controller.jar");

    @TempDir Path folder;
    private Mosquitto broker;
    private LoggerStandIn logger;
    private final List<Program> programs = new ArrayList<>();

    @BeforeEach
    void start() throws Exception {
        assertThat(JAR).exists();
        broker = Mosquitto.start(folder);
        logger = new LoggerStandIn(broker.port(), "bench-1", true);
    }

    @AfterEach
    void stop() throws Exception {
        programs.forEach(program -> program.process.destroyForcibly());
        logger.close();
        broker.close();
    }

    @Test
    void killedWhileTheMotorTurns_leavesOneInterruptedRecord_andStartsInIdle() throws Exception {
        Program first = bench();
        first.say("ack", "pause 2", "start");
        first.await("RUNNING bout 2 of 3, agitate");
        first.process.destroyForcibly();
        // The broker speaks the bench's last will.
        logger.await(l -> last(l).state() == BenchState.State.OFFLINE);

        Program second = bench();
        second.await("IDLE");
        logger.await(l -> l.cycles().size() == 1);
        CycleRecord record = logger.cycles().get(0);
        assertThat(record.outcome()).isEqualTo(Outcome.INTERRUPTED);
        // Whole up to the last second that was stored, not only up to the last bout.
        assertThat(record.bouts()).hasSizeBetween(1, 2);
        assertThat(record.agitation_s()).isBetween(39.98, 80.02);
        logger.await(l -> last(l).state() == BenchState.State.IDLE);
        assertThat(last(logger).cycleId()).isNull();
        second.say("quit");
        assertThat(second.process.waitFor(20, TimeUnit.SECONDS)).isTrue();
        assertThat(second.process.exitValue()).isZero();
        assertThat(logger.cycles()).hasSize(1);
    }

    @Test
    void toldToEndWhileTheMotorTurns_stopsAndKeepsTheRecord() throws Exception {
        Program program = bench();
        program.say("ack", "pause 2", "start");
        program.await("RUNNING bout 1 of 3, agitate");
        program.process.destroy();
        assertThat(program.process.waitFor(20, TimeUnit.SECONDS)).isTrue();

        Program second = bench();
        second.await("IDLE");
        logger.await(l -> l.cycles().size() == 1);
        assertThat(logger.cycles().get(0).outcome()).isEqualTo(Outcome.STOPPED);
        assertThat(logger.cycles().get(0).endedBy()).isEqualTo("SHUTTING-DOWN");
    }

    @Test
    void secondControllerOnTheSameFolder_isTurnedAway() throws Exception {
        bench().await("IDLE");
        Program second = bench();

        assertThat(second.process.waitFor(20, TimeUnit.SECONDS)).isTrue();
        assertThat(second.process.exitValue()).isEqualTo(Main.WRONG_INPUT);
        second.await("in use by another controller");
    }

    @Test
    void wrongSettings_endWithEveryMistakeAndExitCode2() throws Exception {
        Path file = folder.resolve("wrong.yaml");
        Files.writeString(file, "bench: { id: No Good }\nbroker: { prot: 1 }\n");
        Program program = program("config", "--config", file.toString());

        assertThat(program.process.waitFor(20, TimeUnit.SECONDS)).isTrue();
        assertThat(program.process.exitValue()).isEqualTo(Main.WRONG_INPUT);
        program.await("line 1: bench.id reads 'No Good'");
        program.await("line 2: broker.prot is not known. Did you mean 'port'?");
    }

    /** As the service would run it, at a broker that turns the bench's password away. */
    @Test
    void jsonLog_isOneObjectALine_withTheBenchsNews_andNoPassword() throws Exception {
        String secret = "never-to-be-seen-4711";
        Path passwords = Files.writeString(folder.resolve("bench.password"), secret);
        try (Mosquitto strict =
                Mosquitto.start(
                        Files.createDirectory(folder.resolve("strict")),
                        List.of("allow_anonymous false"))) {
            Path settings =
                    Files.writeString(
                            folder.resolve("bench.yaml"),
                            "broker: { host: 127.0.0.1, port: %d, user: bench-1, passwordFile: %s }%n"
                                    .formatted(strict.port(), passwords));
            Program bench =
                    program(
                            "run",
                            "--simulate",
                            "--json-log",
                            "--config",
                            settings.toString(),
                            "--data",
                            folder.resolve("data").toString());
            bench.await("IDLE");
            bench.await("Not authorized");
            bench.process.destroy();
            assertThat(bench.process.waitFor(20, TimeUnit.SECONDS)).isTrue();
            List<JsonNode> events = new ArrayList<>();
            for (String line : bench.lines) {
                events.add(new ObjectMapper().readTree(line));
            }
            assertThat(events)
                    .allSatisfy(
                            event -> {
                                assertThat(event.path("timestamp").asLong())
                                        .isBetween(
                                                System.currentTimeMillis() - 120_000,
                                                System.currentTimeMillis());
                                assertThat(event.path("level").asText())
                                        .isIn("INFO", "WARN", "ERROR");
                                assertThat(event.path("loggerName").asText())
                                        .startsWith("org.evenwash");
                                assertThat(event.path("formattedMessage").asText()).isNotBlank();
                            });
            assertThat(events)
                    .extracting(event -> event.path("formattedMessage").asText())
                    .anyMatch(text -> text.startsWith("IDLE"));
            assertThat(String.join("\n", bench.lines)).doesNotContain(secret);
        }
    }

    private static BenchState last(LoggerStandIn logger) {
        List<BenchState> states = logger.states();
        return states.isEmpty()
                ? BenchState.offline("bench-1", true)
                : states.get(states.size() - 1);
    }

    private Program bench() throws IOException {
        return program(
                "run",
                "--simulate",
                "--speed",
                "20",
                "--script",
                "-",
                "--data",
                folder.resolve("data").toString(),
                "--broker-port",
                Integer.toString(broker.port()));
    }

    private Program program(String... arguments) throws IOException {
        List<String> command = new ArrayList<>(List.of(java(), "-jar", JAR.toString()));
        command.addAll(List.of(arguments));
        Program program =
                new Program(new ProcessBuilder(command).redirectErrorStream(true).start());
        programs.add(program);
        return program;
    }

    private static String java() {
        return Path.of(System.getProperty("java.home"), "bin", "java").toString();
    }

    private static final class Program {
        private final Process process;
        private final PrintWriter in;
        private final Queue<String> lines = new ConcurrentLinkedQueue<>();

        Program(Process process) {
            this.process = process;
            this.in = new PrintWriter(process.getOutputStream(), true, StandardCharsets.UTF_8);
            Thread reader = new Thread(this::read, "program");
            reader.setDaemon(true);
            reader.start();
        }

        private void read() {
            BufferedReader out =
                    new BufferedReader(
                            new InputStreamReader(
                                    process.getInputStream(), StandardCharsets.UTF_8));
            out.lines().forEach(lines::add);
        }

        void say(String... words) {
            for (String word : words) {
                in.println(word);
            }
        }

        void await(String text) {
            Awaitility.await()
                    .atMost(Duration.ofSeconds(30))
                    .pollInterval(Duration.ofMillis(20))
                    .untilAsserted(() -> assertThat(lines).anyMatch(line -> line.contains(text)));
        }
    }
}
