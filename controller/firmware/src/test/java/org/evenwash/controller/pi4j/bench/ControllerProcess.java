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

    /** As the service unit has them. */
    private static final Path FLAGS = Path.of("/bench/flags");

    private static final Pattern STATE =
            Pattern.compile(
                    "^(IDLE|RUNNING|HOLDING|HELD|RESTARTING|STOPPING|STOPPED|ABORTING|ABORTED|COMPLETE)\\b");

    private final Process process;
    private final List<String> said = new CopyOnWriteArrayList<>();
    private final List<String> states = new CopyOnWriteArrayList<>();
    private volatile String line = "";
    private volatile String state = "";
    private volatile int heard;
    private volatile int passed;
    private volatile Reflex reflex = Reflex.NONE;

    /** What is done in the moment in which a state is shown. */
    private record Reflex(String state, Runnable deed) {
        static final Reflex NONE = new Reflex("", () -> {});
    }

    private ControllerProcess(Process process) {
        this.process = process;
        Thread listener = new Thread(this::listen, "listener");
        listener.setDaemon(true);
        listener.start();
    }

    /** Starts it as the service does. */
    static ControllerProcess start(Path configuration) throws IOException {
        List<String> command =
                new ArrayList<>(List.of("/usr/lib/jvm/java-17-openjdk-arm64/bin/java"));
        command.addAll(Files.readAllLines(FLAGS));
        command.addAll(List.of("-Dsun.stdout.encoding=UTF-8", "-jar", JAR.toString()));
        command.addAll(List.of("run", "--no-panel", "--config", configuration.toString()));
        return new ControllerProcess(new ProcessBuilder(command).redirectErrorStream(true).start());
    }

    private void listen() {
        try (BufferedReader out = process.inputReader()) {
            for (String heardNow = out.readLine(); heardNow != null; heardNow = out.readLine()) {
                hear(heardNow);
            }
        } catch (IOException e) {
            System.out.println("  | (its terminal broke: " + e.getMessage() + ")");
        }
    }

    private void hear(String text) {
        Matcher matcher = STATE.matcher(text);
        if (matcher.find()) {
            line = text;
            enter(matcher.group(1));
        }
        said.add(text);
        System.out.println("  | " + text);
    }

    private void enter(String next) {
        Reflex now = reflex;
        if (next.equals(now.state)) {
            reflex = Reflex.NONE;
            now.deed.run();
        }
        if (!next.equals(state)) {
            states.add(next);
        }
        state = next;
    }

    /** Does something in the very scan period in which a state begins. */
    void when(String wanted, Runnable deed) {
        reflex = new Reflex(wanted, deed);
    }

    /** The states it went through since {@link #forget}, the one at that moment first. */
    List<String> states() {
        return List.copyOf(states.subList(passed, states.size()));
    }

    /** The line that it showed last about its state. */
    String line() {
        return line;
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
        passed = Math.max(0, states.size() - 1);
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

    /** Settings for this board: those that are shipped, with a short recipe and fewer pulses to feed by hand. */
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
                      - { agitation_s: 8, speed_rpm: 100, ramp_s: 1, rest_s: 3 }
                      - { agitation_s: 3, speed_rpm: 100, ramp_s: 1, rest_s: 0, reverse: true }
                    tolerances: { agitation_s: 1, rest_s: 1, speed_percent: 25, timeInBand_percent: 0 }
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
