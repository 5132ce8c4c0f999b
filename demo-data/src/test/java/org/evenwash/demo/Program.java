package org.evenwash.demo;

import java.io.BufferedReader;
import java.io.BufferedWriter;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.function.Predicate;

/** A program of its own process, driven by lines and watched by what it prints. */
final class Program implements AutoCloseable {
    private static final Duration PATIENCE = Duration.ofMinutes(5);
    private static final String ENDED = "(its output ended)";

    private final String name;
    private final Process process;
    private final BufferedWriter input;
    private final List<String> lines = new ArrayList<>();
    private int read;

    private Program(String name, List<String> command) {
        this.name = name;
        try {
            process = new ProcessBuilder(command).redirectErrorStream(true).start();
        } catch (IOException e) {
            throw new UncheckedIOException(
                    "cannot start " + command.get(0) + "; to have it run .ci/provision", e);
        }
        input =
                new BufferedWriter(
                        new OutputStreamWriter(process.getOutputStream(), StandardCharsets.UTF_8));
        Thread reader = new Thread(this::collect, "reads " + name);
        reader.setDaemon(true);
        reader.start();
    }

    static Program start(String name, List<String> command) {
        return new Program(name, command);
    }

    /** A Java that starts soon. */
    static List<String> java() {
        return List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:+UseSerialGC",
                "-XX:TieredStopAtLevel=1",
                "-Xshare:auto");
    }

    private void collect() {
        try (BufferedReader output =
                new BufferedReader(
                        new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8))) {
            for (String line = output.readLine(); line != null; line = output.readLine()) {
                add(line);
            }
        } catch (IOException e) {
            add("(its output ended: " + e.getMessage() + ")");
        }
        add(ENDED);
    }

    private synchronized void add(String line) {
        lines.add(line);
        notifyAll();
    }

    Program say(String line) {
        try {
            input.write(line + "\n");
            input.flush();
        } catch (IOException e) {
            throw new UncheckedIOException(name + " takes no more lines:\n" + tail(), e);
        }
        return this;
    }

    /** Waits for a line that was not yet waited for. */
    synchronized String await(String what, Predicate<String> wanted) {
        long end_ns = System.nanoTime() + PATIENCE.toNanos();
        while (true) {
            while (read < lines.size()) {
                String line = lines.get(read++);
                if (wanted.test(line)) {
                    return line;
                }
            }
            long left_ms = TimeUnit.NANOSECONDS.toMillis(end_ns - System.nanoTime());
            if (left_ms <= 0 || ended()) {
                throw new AssertionError(name + " never said: " + what + "\n" + tail());
            }
            try {
                wait(Math.min(left_ms, 200));
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                throw new AssertionError("interrupted while waiting for " + what, e);
            }
        }
    }

    /** All that it printed has been read; a process that is gone may have printed more. */
    private boolean ended() {
        return read == lines.size() && !lines.isEmpty() && lines.get(read - 1).equals(ENDED);
    }

    String await(String beginning) {
        return await(beginning, line -> line.startsWith(beginning));
    }

    /** Waits for a line that was not yet waited for, and tells the one just before it. */
    String awaitBefore(String line) {
        await(line, line::equals);
        synchronized (this) {
            return lines.get(read - 2);
        }
    }

    /** True once such a line came, false when the program ended without. */
    boolean awaitOrEnd(String beginning) {
        String line =
                await(
                        beginning + ", or its end",
                        said -> said.startsWith(beginning) || said.equals(ENDED));
        return !line.equals(ENDED);
    }

    /** How many of its lines so far are such. */
    synchronized long said(Predicate<String> such) {
        return lines.stream().filter(such).count();
    }

    /** The last lines it printed. */
    synchronized String tail() {
        return String.join("\n", lines.subList(Math.max(0, lines.size() - 60), lines.size()));
    }

    synchronized String all() {
        return String.join("\n", lines);
    }

    /** What it printed until it ended, without empty lines. */
    synchronized List<String> lines() {
        return lines.stream().filter(line -> !line.isBlank() && !line.equals(ENDED)).toList();
    }

    boolean isAlive() {
        return process.isAlive();
    }

    long pid() {
        return process.pid();
    }

    /** SIGSTOP: it stands still, connections and locks in its hands. */
    void freeze() {
        signal("STOP");
    }

    void thaw() {
        signal("CONT");
    }

    private void signal(String name) {
        Program kill = start("kill", List.of("kill", "-" + name, String.valueOf(process.pid())));
        // Whether it should have ended by itself is judged elsewhere.
        if (kill.awaitExit() != 0 && process.isAlive()) {
            throw new AssertionError(this.name + " takes no signal:\n" + kill.tail());
        }
    }

    /** kill -9: it gets no chance to tidy up. */
    void kill() {
        process.destroyForcibly();
        awaitExit();
    }

    int awaitExit() {
        try {
            if (!process.waitFor(PATIENCE.toSeconds(), TimeUnit.SECONDS)) {
                process.destroyForcibly();
                throw new AssertionError(name + " did not end:\n" + tail());
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new AssertionError("interrupted while " + name + " should end", e);
        }
        return process.exitValue();
    }

    /** Asks it to end, as a service manager would. */
    @Override
    public void close() {
        if (process.isAlive()) {
            process.destroy();
            awaitExit();
        }
    }
}
