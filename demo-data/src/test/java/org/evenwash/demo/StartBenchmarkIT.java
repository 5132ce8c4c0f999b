package org.evenwash.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.function.Supplier;
import java.util.function.ToDoubleFunction;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * From start to ready, and what is resident then, of both programs as their packages start them, in turn with a Java that does
 * nothing. Prints whether the targets were met and does not fail where they were not: the clock also measures what else the
 * machine is doing. The last benchmark of the build, so it puts the report of all together.
 */
@Tag("benchmark")
class StartBenchmarkIT {
    private static final int ROUNDS = Integer.getInteger("evenwash.benchmark.starts", 7);
    private static final Duration SETTLED = Duration.ofSeconds(4);
    private static final List<String> LINES = new ArrayList<>();

    @TempDir static Path folder;

    /**
     * One kind of program.
     *
     * @param ready how the line begins by which it is ready
     * @param target_s at most, from start to ready
     * @param target_MB at most, resident
     */
    private record Candidate(
            String name,
            Supplier<Program> start,
            String ready,
            double target_s,
            double target_MB,
            List<Start> starts) {
        double median(ToDoubleFunction<Start> figure) {
            double[] all = starts.stream().mapToDouble(figure).sorted().toArray();
            return all[all.length / 2];
        }
    }

    /**
     * One start.
     *
     * @param clock_s until it was ready
     * @param processor_s used by then
     */
    private record Start(double clock_s, double processor_s, double resident_MB) {}

    @Test
    void startToReady_andResidentMemory_besideABareJava() throws IOException {
        Path controller = Shipped.CONTROLLER.install(folder);
        Path logger = Shipped.LOGGER.install(folder);
        Candidate bare =
                new Candidate(
                        "a Java that does nothing",
                        StartBenchmarkIT::bareJava,
                        BareProgram.READY,
                        Double.NaN,
                        Double.NaN,
                        new ArrayList<>());
        List<Candidate> all =
                List.of(
                        bare,
                        new Candidate(
                                "controller, `run --simulate`",
                                () -> controller(controller),
                                "IDLE",
                                0.8,
                                64,
                                new ArrayList<>()),
                        new Candidate(
                                "logger, `serve` with its own broker",
                                () -> logger(logger),
                                "Pages at",
                                3,
                                256,
                                new ArrayList<>()));
        for (int round = 0; round < ROUNDS; round++) {
            for (Candidate one : all) {
                one.starts().add(measured(one));
            }
        }
        say("medians of %d starts in turn, class archive, flags of the packages", ROUNDS);
        say(
                "| program | to ready, s | of a bare Java | target | processor, s | resident, MB | of a bare Java | target |");
        say("|---|---|---|---|---|---|---|---|");
        all.forEach(one -> row(one, bare));
        assertThat(all).allMatch(one -> one.starts().size() == ROUNDS);
        assertThat(all).allMatch(one -> one.median(Start::resident_MB) > 1);
    }

    @AfterAll
    static void report() throws IOException {
        System.out.println("Written to " + BenchmarkReport.write(StartBenchmarkIT.class, LINES));
    }

    private static Program bareJava() {
        List<String> command = new ArrayList<>(Program.java());
        command.addAll(List.of("-cp", "target/test-classes", BareProgram.class.getName()));
        return Program.start("bare Java", command);
    }

    private static Program controller(Path script) {
        // Nobody listens at that port.
        return Installed.run(
                script, "run", "--simulate", "--no-panel", "--broker-port", "9", "--data", fresh());
    }

    private static Program logger(Path script) {
        return Installed.run(
                script, "serve", "--port", "0", "--broker-port", "0", "--data", fresh());
    }

    private static String fresh() {
        try {
            return Files.createTempDirectory(folder, "data").toString();
        } catch (IOException e) {
            throw new java.io.UncheckedIOException("no place for data", e);
        }
    }

    private static Start measured(Candidate candidate) {
        long start_ns = System.nanoTime();
        try (Program program = candidate.start().get()) {
            program.await(candidate.ready());
            double clock_s = (System.nanoTime() - start_ns) * 1e-9;
            double processor_s =
                    ProcessHandle.of(program.pid())
                                    .flatMap(process -> process.info().totalCpuDuration())
                                    .orElseThrow()
                                    .toMillis()
                            / 1e3;
            // What a start leaves behind is still being tidied up.
            Awaitility.await().pollDelay(SETTLED).until(program::isAlive);
            return new Start(clock_s, processor_s, Footprint.resident_MB(program.pid()));
        }
    }

    private static void row(Candidate one, Candidate bare) {
        double ready_s = one.median(Start::clock_s);
        double resident_MB = one.median(Start::resident_MB);
        say(
                "| %s | %.2f | × %.1f | %s | %.2f | %.0f | × %.1f | %s |",
                one.name(),
                ready_s,
                ready_s / bare.median(Start::clock_s),
                target(ready_s, one.target_s(), "s"),
                one.median(Start::processor_s),
                resident_MB,
                resident_MB / bare.median(Start::resident_MB),
                target(resident_MB, one.target_MB(), "MB"));
    }

    private static String target(double figure, double most, String unit) {
        return Double.isNaN(most)
                ? "–"
                : String.format(
                        Locale.ROOT,
                        "< %s %s: %s",
                        most == Math.rint(most) ? "" + (long) most : "" + most,
                        unit,
                        figure < most ? "met" : "missed");
    }

    private static void say(String format, Object... values) {
        String line = String.format(Locale.ROOT, format, values);
        System.out.println(line);
        LINES.addAll(Arrays.asList(line.split("\n")));
    }
}
