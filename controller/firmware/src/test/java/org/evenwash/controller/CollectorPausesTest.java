package org.evenwash.controller;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * How long Java stops the scan for its own sake while the bench washes one jar after the other: the whole program on a
 * simulated bench, in real time, with the service's flags and scheduling, a broker beside it. A minute by default, {@code
 * -Dcollector.minutes} sets more; printed, and below one scan.
 */
@Tag("benchmark")
class CollectorPausesTest {
    private static final Duration MINUTES =
            Duration.ofMinutes(Long.getLong("collector.minutes", 1));
    private static final double SCAN_ms = 10;

    /** The hands below wait so long before they touch the bench. */
    private static final double READY_s = 3;

    private static final Pattern PAUSE = Pattern.compile("Pause .* ([0-9.]+)ms$");
    private static final Pattern STOP =
            Pattern.compile("Safepoint \"(\\w+)\".* Total: +(\\d+) ns$");

    /** One wash of the recipe that runs without a ticket, three minutes long. */
    private static final String WASH = "change-jar\npause 2\nstart\nwait COMPLETE 300\nreset\n";

    @TempDir Path folder;

    @Test
    void pauses_whileTheBenchWashes_areBelowOneScan() throws Exception {
        Path log = folder.resolve("collector.log");
        Path said = folder.resolve("said");
        try (Mosquitto broker = Mosquitto.start(folder)) {
            Process program =
                    new ProcessBuilder(command(log, broker.port()))
                            .redirectErrorStream(true)
                            .redirectOutput(said.toFile())
                            .start();
            try {
                PrintWriter hands =
                        new PrintWriter(program.getOutputStream(), true, StandardCharsets.UTF_8);
                hands.println("pause 3\nack");
                // Written ahead: whatever is not done when the time is over is left undone.
                for (long i = 0; i <= MINUTES.toMinutes() / 3; i++) {
                    hands.print(WASH);
                }
                hands.flush();
                Awaitility.await()
                        .pollInterval(Duration.ofSeconds(1))
                        .atMost(MINUTES.plusMinutes(1))
                        .until(() -> minutesIn(log) >= MINUTES.toMinutes());
                assertThat(program.isAlive()).as(() -> text(said)).isTrue();
            } finally {
                program.destroy();
                assertThat(program.waitFor(30, TimeUnit.SECONDS)).isTrue();
            }
        }
        report(log, said);
    }

    private static List<String> command(Path log, int port) throws Exception {
        List<String> command = new ArrayList<>();
        if (mayBeFifo()) {
            command.addAll(List.of("chrt", "-f", "20"));
        }
        command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
        command.addAll(ShippedFlags.read());
        command.add("-Xlog:gc,safepoint:file=" + log);
        command.addAll(List.of("-cp", System.getProperty("java.class.path")));
        command.addAll(List.of(Main.class.getName(), "run", "--simulate", "--script", "-"));
        command.addAll(List.of("--broker-port", Integer.toString(port)));
        command.addAll(List.of("--data", log.resolveSibling("data").toString()));
        return command;
    }

    private static boolean mayBeFifo() throws Exception {
        if (!Files.isExecutable(Path.of("/usr/bin/chrt"))) {
            return false;
        }
        return new ProcessBuilder("chrt", "-f", "20", "true")
                        .redirectError(ProcessBuilder.Redirect.DISCARD)
                        .start()
                        .waitFor()
                == 0;
    }

    /** The log's own time: seconds since the program's start. */
    private static double minutesIn(Path log) throws Exception {
        List<String> lines = Files.exists(log) ? Files.readAllLines(log) : List.of();
        return lines.isEmpty() ? 0 : seconds(lines.get(lines.size() - 1)) / 60;
    }

    private static double seconds(String line) {
        return Double.parseDouble(line.substring(1, line.indexOf('s')));
    }

    private static void report(Path log, Path said) throws Exception {
        int pauses = 0;
        double atStart_ms = 0;
        double longest_ms = 0;
        double longestStop_ms = 0;
        for (String line : Files.readAllLines(log)) {
            boolean ready = seconds(line) > READY_s;
            Matcher pause = PAUSE.matcher(line);
            if (pause.find()) {
                double length_ms = Double.parseDouble(pause.group(1));
                pauses += ready ? 1 : 0;
                longest_ms = ready ? Math.max(longest_ms, length_ms) : longest_ms;
                atStart_ms = ready ? atStart_ms : Math.max(atStart_ms, length_ms);
            }
            Matcher stop = STOP.matcher(line);
            if (stop.find() && ready) {
                longestStop_ms = Math.max(longestStop_ms, Long.parseLong(stop.group(2)) * 1e-6);
            }
        }
        long washes = text(said).lines().filter(line -> line.startsWith("COMPLETE")).count();
        System.out.printf(
                Locale.ROOT,
                "collector: %d pauses in %.0f min with %d washes, the longest %.2f ms; the longest stop for any reason"
                        + " %.2f ms; while it started, before a wash can begin, %.2f ms; a scan is %.0f ms%n",
                pauses,
                minutesIn(log),
                washes,
                longest_ms,
                longestStop_ms,
                atStart_ms,
                SCAN_ms);
        assertThat(pauses).isPositive();
        assertThat(longest_ms).isLessThan(SCAN_ms);
    }

    private static String text(Path file) {
        try {
            return Files.readString(file);
        } catch (IOException e) {
            return "(no output: " + e.getMessage() + ")";
        }
    }
}
