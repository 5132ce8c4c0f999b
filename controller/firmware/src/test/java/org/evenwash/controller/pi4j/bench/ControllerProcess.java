package org.evenwash.controller.pi4j.bench;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** The shipped program in a process of its own, and what it says on its terminal. */
final class ControllerProcess implements AutoCloseable {
    private static final Path JAR = Path.of("/bench/evenwash-controller.jar");
    private static final Pattern STATE =
            Pattern.compile(
                    "^(IDLE|RUNNING|HOLDING|HELD|RESTARTING|STOPPING|STOPPED|ABORTING|ABORTED|COMPLETE)\\b");

    private final Process process;
    private final List<String> said = new CopyOnWriteArrayList<>();
    private volatile String state = "";
    private volatile int heard;

    private ControllerProcess(Process process) {
        this.process = process;
        Thread listener = new Thread(this::listen, "listener");
        listener.setDaemon(true);
        listener.start();
    }

    /** Starts it with the flags of the service, but room for the emulator's slowness. */
    static ControllerProcess start(Path configuration) throws IOException {
        List<String> command =
                new ArrayList<>(List.of("/usr/lib/jvm/java-17-openjdk-arm64/bin/java"));
        command.addAll(
                List.of(
                        "-XX:+UseSerialGC",
                        "-Xmx64m",
                        "-XX:TieredStopAtLevel=1",
                        "-Dsun.stdout.encoding=UTF-8"));
        command.addAll(
                List.of(
                        "-jar",
                        JAR.toString(),
                        "run",
                        "--no-panel",
                        "--config",
                        configuration.toString()));
        return new ControllerProcess(new ProcessBuilder(command).redirectErrorStream(true).start());
    }

    private void listen() {
        try (BufferedReader out = process.inputReader()) {
            for (String line = out.readLine(); line != null; line = out.readLine()) {
                said.add(line);
                Matcher matcher = STATE.matcher(line);
                if (matcher.find()) {
                    state = matcher.group(1);
                }
                System.out.println("  | " + line);
            }
        } catch (IOException e) {
            System.out.println("  | (its terminal broke: " + e.getMessage() + ")");
        }
    }

    String state() {
        return state;
    }

    void awaitState(String wanted, Duration limit) {
        Wires.await(
                "state " + wanted + " (is " + state + ")",
                limit,
                () -> {
                    if (!process.isAlive()) {
                        throw new AssertionError("the controller ended; it said last: " + tail());
                    }
                    return state.equals(wanted);
                });
    }

    /** Whether it said something since {@link #forget}. */
    boolean said(String words) {
        return said.stream().skip(heard).anyMatch(line -> line.contains(words));
    }

    /** What was said before this moment no longer counts. */
    void forget() {
        heard = said.size();
    }

    String tail() {
        List<String> now = List.copyOf(said); // it goes on talking
        return String.join(" / ", now.subList(Math.max(0, now.size() - 4), now.size()));
    }

    /** Sends a signal by its name, as {@code kill} does. */
    void signal(String name) throws IOException, InterruptedException {
        Process kill =
                new ProcessBuilder("/bin/busybox", "kill", "-" + name, Long.toString(process.pid()))
                        .start();
        if (kill.waitFor() != 0) {
            throw new AssertionError("kill -" + name + " failed");
        }
    }

    /** Its exit code. */
    int awaitEnd(Duration limit) throws InterruptedException {
        if (!process.waitFor(limit.toMillis(), TimeUnit.MILLISECONDS)) {
            throw new AssertionError("the controller did not end within " + limit);
        }
        return process.exitValue();
    }

    /** Settings for this board: a short recipe, and time for an emulated processor. */
    static Path configure(Path folder) throws IOException {
        Files.createDirectories(folder);
        Path recipes = folder.resolve("recipes.yaml");
        Files.writeString(
                recipes,
                """
                recipes:
                  - id: bench-short
                    name: Short, for the virtual bench
                    bouts:
                      - { agitation_s: 6, speed_rpm: 100, ramp_s: 1, rest_s: 4 }
                      - { agitation_s: 4, speed_rpm: 100, ramp_s: 1, rest_s: 0, reverse: true }
                    tolerances: { agitation_s: 3, rest_s: 5, speed_percent: 50, timeInBand_percent: 0 }
                    longestHold_s: 300
                """);
        Path settings = folder.resolve("bench.yaml");
        Files.writeString(
                settings,
                """
                bench:
                  id: virtual
                  dataFolder: %s
                  recipe: bench-short
                  recipesFile: %s
                safety:
                  overrunLimit_ms: 2000
                speed:
                  pulsesPerRevolution: %d
                """
                        .formatted(folder.resolve("data"), recipes, Shaft.PULSES_PER_REVOLUTION));
        return settings;
    }

    /** Asks it to end, and ends it when it does not. */
    @Override
    public void close() {
        process.destroy();
        try {
            if (!process.waitFor(30, TimeUnit.SECONDS)) {
                process.destroyForcibly();
            }
        } catch (InterruptedException e) {
            process.destroyForcibly();
            Thread.currentThread().interrupt();
        }
    }
}
