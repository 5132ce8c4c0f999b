package org.evenwash.controller;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * How late the scan comes on this computer, beside the kernel's own yardstick (cyclictest of Debian's rt-tests) and beside a
 * script that sleeps in a loop; all three at the same time, idle and under load. Printed, since a figure is only worth
 * something with the computer it was taken on. {@code mvn -Pbenchmarks -pl controller/firmware -am}
 */
@Tag("benchmark")
class LoopBenchmarkTest {
    private static final int WATCH_S = 15;

    private static final List<String> FIFO = List.of("chrt", "-f", "20");
    private static final Pattern HISTOGRAM = Pattern.compile("^(\\d{6,}) (\\d{6,})$");
    private static final Pattern PAUSE = Pattern.compile("Pause .* ([0-9.]+)ms$");

    /** Prints each interval's excess over 10 ms, in nanoseconds. */
    private static final String SLEEP_LOOP =
            """
            import sys, time
            last = time.monotonic_ns()
            for _ in range(int(sys.argv[1]) * 100):
                time.sleep(0.01)
                now = time.monotonic_ns()
                print(now - last - 10000000)
                last = now
            """;

    @TempDir Path folder;

    @Test
    void latenessReactionAndPauses_idleAndUnderLoad() throws Exception {
        System.out.printf(
                Locale.ROOT,
                "%d processors, %s %s, Java %s%n",
                Runtime.getRuntime().availableProcessors(),
                System.getProperty("os.name"),
                System.getProperty("os.version"),
                System.getProperty("java.version"));
        System.out.println("--- idle (but for what else this computer does)");
        round(List.of(), true);
        List<Thread> busy = busyThreads();
        try {
            System.out.println("--- under load: " + busy.size() + " busy threads");
            round(List.of(), false);
            if (works(FIFO)) {
                System.out.println("--- under load, controller and cyclictest with SCHED_FIFO 20");
                round(FIFO, false);
            } else {
                System.out.println("--- SCHED_FIFO may not be set by this user: left out");
            }
        } finally {
            busy.forEach(Thread::interrupt);
        }
    }

    private void round(List<String> scheduling, boolean hour) throws Exception {
        Path pauses = folder.resolve("pauses" + scheduling.size() + hour + ".log");
        Path program = folder.resolve("program.out");
        Path script = folder.resolve("script.out");
        Path yardstick = folder.resolve("yardstick.out");
        List<String> controller = new ArrayList<>(scheduling);
        controller.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
        controller.addAll(ShippedFlags.read());
        controller.add("-Xlog:gc:file=" + pauses);
        controller.addAll(List.of("-Dsun.stdout.encoding=UTF-8", "-cp"));
        controller.add(System.getProperty("java.class.path"));
        controller.addAll(List.of(TimingProgram.class.getName(), Integer.toString(WATCH_S)));
        if (hour) {
            controller.add("hour");
        }
        Process measured = start(controller, program);
        Process slept =
                start(List.of("python3", "-c", SLEEP_LOOP, Integer.toString(WATCH_S)), script);
        Process ticked = null;
        if (works(List.of("cyclictest", "--help"))) {
            List<String> cyclictest = new ArrayList<>(List.of("cyclictest", "-q", "-i", "10000"));
            cyclictest.addAll(List.of("-D", WATCH_S + "s", "-h", "200000"));
            if (!scheduling.isEmpty()) {
                cyclictest.addAll(List.of("-p", "20"));
            }
            ticked = start(cyclictest, yardstick);
        }
        ended(measured, program);
        ended(slept, script);
        System.out.print(Files.readString(program));
        System.out.println(pauses(pauses, hour));
        if (ticked == null) {
            System.out.println("cyclictest is not here: apt-get install rt-tests");
        } else {
            ended(ticked, yardstick);
            String line = TimingProgram.line("cyclictest, lateness", histogram(yardstick), 1);
            System.out.println(line);
            System.out.printf(
                    Locale.ROOT,
                    "scan lateness, p99: %.2f of cyclictest's%n",
                    p99_us(Files.readString(program), "scan lateness") / p99_us(line, "lateness"));
        }
        long[] script_ns = Files.readAllLines(script).stream().mapToLong(Long::parseLong).toArray();
        System.out.println(TimingProgram.line("sleep-loop script, lateness", script_ns, 1_000));
    }

    private static double p99_us(String report, String what) {
        Matcher line = Pattern.compile(what + " .* p99 +([0-9]+) ").matcher(report);
        assertThat(line.find()).as(report).isTrue();
        return Double.parseDouble(line.group(1));
    }

    private static Process start(List<String> command, Path out) throws IOException {
        return new ProcessBuilder(command)
                .redirectErrorStream(true)
                .redirectOutput(out.toFile())
                .start();
    }

    private static void ended(Process process, Path out) throws Exception {
        boolean inTime = process.waitFor(4, TimeUnit.MINUTES);
        process.destroyForcibly();
        assertThat(inTime).isTrue();
        assertThat(process.exitValue()).as(() -> read(out)).isZero();
    }

    private static String read(Path file) {
        try {
            return Files.readString(file);
        } catch (IOException e) {
            return "(no output: " + e.getMessage() + ")";
        }
    }

    private static boolean works(List<String> command) throws InterruptedException {
        List<String> tried = new ArrayList<>(command);
        if (command.equals(FIFO)) {
            tried.add("true");
        }
        try {
            Process process =
                    new ProcessBuilder(tried)
                            .redirectErrorStream(true)
                            .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                            .start();
            return process.waitFor() == 0;
        } catch (IOException e) {
            return false;
        }
    }

    /** Every tick of the histogram, microseconds. */
    private static long[] histogram(Path file) throws IOException {
        List<Long> all_us = new ArrayList<>();
        for (String line : Files.readAllLines(file, StandardCharsets.UTF_8)) {
            Matcher row = HISTOGRAM.matcher(line.strip());
            if (row.matches()) {
                for (long i = Long.parseLong(row.group(2)); i > 0; i--) {
                    all_us.add(Long.parseLong(row.group(1)));
                }
            }
        }
        return all_us.stream().mapToLong(Long::longValue).toArray();
    }

    private static String pauses(Path log, boolean hour) throws IOException {
        double longest_ms = 0;
        int count = 0;
        for (String line : Files.readAllLines(log)) {
            Matcher pause = PAUSE.matcher(line);
            if (pause.find()) {
                count++;
                longest_ms = Math.max(longest_ms, Double.parseDouble(pause.group(1)));
            }
        }
        assertThat(count).isPositive();
        return String.format(
                Locale.ROOT,
                "collector: %d pauses, the longest %.2f ms; a scan is 10 ms%s",
                count,
                longest_ms,
                hour ? "; 360,000 scans (an hour) included" : "");
    }

    private static List<Thread> busyThreads() {
        List<Thread> busy = new ArrayList<>();
        for (int i = 0; i < 2 * Runtime.getRuntime().availableProcessors(); i++) {
            Thread thread =
                    new Thread(
                            () -> {
                                double x = 1;
                                while (!Thread.currentThread().isInterrupted()) {
                                    x = Math.sin(x) + 1;
                                }
                            },
                            "busy " + i);
            thread.setDaemon(true);
            thread.start();
            busy.add(thread);
        }
        return busy;
    }
}
