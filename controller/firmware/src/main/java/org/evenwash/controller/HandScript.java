package org.evenwash.controller;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.PrintStream;
import java.time.Duration;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import org.evenwash.controller.panel.PanelText;
import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.Sensor;
import org.evenwash.controller.process.State;
import org.evenwash.controller.sim.Fault;

/**
 * Hands at the simulated bench, a line for each act, from this program's own standard input. It
 * says what it does on standard output, so that whoever drives it can follow.
 */
final class HandScript {
    private static final Duration LONGEST_SETTLE = Duration.ofMinutes(1);

    private final SimulatedController bench;
    private final PrintStream out;
    private final Map<String, Runnable> acts = new TreeMap<>();

    HandScript(SimulatedController bench, PrintStream out) {
        this.bench = bench;
        this.out = out;
        acts.put("start", () -> bench.press(Command.START));
        acts.put("stop", () -> bench.press(Command.STOP));
        acts.put("hold", () -> bench.press(Command.HOLD));
        acts.put("restart", () -> bench.press(Command.RESTART));
        acts.put("reset", () -> bench.press(Command.RESET));
        acts.put("ack", () -> bench.choose(Choice.ACKNOWLEDGE_CAUTIONS));
        acts.put("ack-warm", () -> bench.choose(Choice.ACKNOWLEDGE_WARM_SPIRIT));
        acts.put("same-jar", () -> bench.choose(Choice.SAME_JAR_AGAIN));
        acts.put("second-wash", () -> bench.choose(Choice.SECOND_WASH));
        acts.put("proof-test", () -> bench.choose(Choice.PROOF_TEST));
        acts.put("silence", () -> bench.choose(Choice.SILENCE));
        acts.put("open-lid", bench::openLid);
        acts.put("close-lid", bench::closeLid);
        acts.put("estop", bench::pressEStop);
        acts.put("release-estop", bench::releaseEStop);
        acts.put("rearm", bench::rearm);
        acts.put("insert-jar", bench::insertJars);
        acts.put("remove-jar", bench::removeJars);
        acts.put("change-jar", bench::changeJars);
        acts.put("help", this::help);
    }

    /** Reads lines until the input ends or {@code quit}. */
    void run(BufferedReader in) throws IOException {
        for (String line = in.readLine(); line != null; line = in.readLine()) {
            String words = line.strip();
            if (words.equals("quit")) {
                return;
            }
            if (!words.isEmpty() && !words.startsWith("#")) {
                act(words.toLowerCase(Locale.ROOT).split("\\s+"));
            }
        }
    }

    private void act(String[] words) {
        try {
            if (words[0].equals("status")) {
                // In one piece: the panel's own lines may be behind, and would come between.
                out.println(PanelText.line(bench.status()) + System.lineSeparator() + "> status");
                return;
            }
            Runnable act = acts.get(words[0]);
            if (act != null) {
                act.run();
            } else if (!withArguments(words)) {
                out.println("? " + String.join(" ", words) + ": not known; 'help' lists all");
                return;
            }
            out.println("> " + String.join(" ", words));
        } catch (IllegalArgumentException | IllegalStateException e) {
            out.println("? " + String.join(" ", words) + ": " + e.getMessage());
        }
    }

    private boolean withArguments(String[] words) {
        switch (words[0]) {
            case "pause" -> bench.pause(seconds(words, 1));
            case "clock" -> bench.stepClock(seconds(words, 1));
            case "settle" -> settle();
            case "fail" ->
                    bench.fail(Sensor.valueOf(name(words, 1)), Fault.valueOf(name(words, 2)));
            case "mend" -> bench.mend(Sensor.valueOf(name(words, 1)));
            case "wait" -> waitFor(words);
            default -> {
                return false;
            }
        }
        return true;
    }

    private void waitFor(String[] words) {
        State wanted = State.valueOf(name(words, 1));
        Duration most = words.length > 2 ? seconds(words, 2) : Duration.ofMinutes(5);
        // What was pressed before shall count: after "reset" the bench is no longer COMPLETE.
        settle();
        if (!bench.await(wanted, most)) {
            out.println("? still " + bench.state() + ", not " + wanted);
        }
    }

    private void settle() {
        if (!bench.settle(LONGEST_SETTLE)) {
            out.println("? not all is done yet");
        }
    }

    private static String name(String[] words, int at) {
        if (words.length <= at) {
            throw new IllegalArgumentException("a word is missing after '" + words[0] + "'");
        }
        return words[at].toUpperCase(Locale.ROOT).replace('-', '_');
    }

    private static Duration seconds(String[] words, int at) {
        // Read as it stands: a name's dash becomes an underscore, a number's is a minus.
        name(words, at);
        return Duration.ofMillis((long) (1_000 * Double.parseDouble(words[at])));
    }

    private void help() {
        out.println(String.join(" ", acts.keySet()));
        out.println(
                "pause SECONDS (of the bench's time), wait STATE [SECONDS], settle, status, quit");
        out.println("clock SECONDS: steps the wall clock, such as clock -3600");
        out.println("fail SENSOR FAULT, mend SENSOR: such as fail tachometer disconnected");
    }
}
