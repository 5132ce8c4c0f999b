package org.evenwash.controller;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.config.MistakenFile;
import org.evenwash.controller.pi4j.BusCheck;
import org.evenwash.controller.pi4j.CheckProcedure;
import org.evenwash.controller.pi4j.Finding;
import org.evenwash.controller.pi4j.GpioLines;
import org.evenwash.controller.pi4j.Wiring;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Checks settings and wiring of a bench, with a builder standing at it. */
@Command(
        name = "check",
        description = {
            "Checks settings and wiring of this bench; starts no cycle.",
            "First by itself: lines, motor PWM, supply monitor, thermometers;",
            "then every input, moved by you; then every output, motor supply off."
        },
        mixinStandardHelpOptions = true)
final class CheckCommand implements Callable<Integer> {
    private static final long LIVE_EVERY_MS = 200;

    @Spec private CommandSpec spec;
    @Mixin private ConfigOption config;

    @Option(names = "--settings-only", description = "Looks at no hardware.")
    private boolean settingsOnly;

    @Option(names = "--live", description = "Shows every input until you press Enter.")
    private boolean live;

    private final BufferedReader in =
            new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8));

    @Override
    public Integer call() throws MistakenFile, IOException, InterruptedException {
        Configuration read = config.read();
        PrintWriter out = spec.commandLine().getOut();
        out.println("Settings of bench " + read.benchId() + " are sound.");
        out.flush();
        if (settingsOnly) {
            return 0;
        }
        Wiring wiring = BoardWiring.of(read);
        AtTerminal builder = new AtTerminal(out);
        try (GpioLines lines = GpioLines.open()) {
            CheckProcedure procedure = new CheckProcedure(lines, wiring.pins(), builder);
            List<Finding> byItself = new ArrayList<>(procedure.alone());
            byItself.addAll(new BusCheck(wiring, builder::show).run());
            boolean alone = told(out, byItself);
            if (!procedure.ready()) {
                return 1;
            }
            if (live) {
                showLive(out, procedure);
                return 0;
            }
            boolean inputs = told(out, procedure.inputs());
            boolean outputs = told(out, procedure.outputs());
            return alone || inputs || outputs ? 1 : 0;
        }
    }

    private void showLive(PrintWriter out, CheckProcedure procedure)
            throws IOException, InterruptedException {
        String last = "";
        while (!in.ready()) {
            String now = procedure.live();
            if (!now.equals(last)) {
                out.println(now);
                out.flush();
                last = now;
            }
            TimeUnit.MILLISECONDS.sleep(LIVE_EVERY_MS);
        }
    }

    /** True when there was anything to tell. */
    private static boolean told(PrintWriter out, List<Finding> findings) {
        findings.forEach(out::println);
        if (findings.isEmpty()) {
            out.println("Nothing wrong here.");
        }
        out.flush();
        return !findings.isEmpty();
    }

    private final class AtTerminal implements CheckProcedure.Builder {
        private final PrintWriter out;

        AtTerminal(PrintWriter out) {
            this.out = out;
        }

        @Override
        public void show(String line) {
            out.println(line);
            out.flush();
        }

        @Override
        public void instruct(String what) {
            show("> " + what);
        }

        @Override
        public boolean confirms(String question) {
            out.print(question + " [y/n] ");
            out.flush();
            try {
                String answer = in.readLine();
                return answer != null && answer.strip().toLowerCase(Locale.ROOT).startsWith("y");
            } catch (IOException e) {
                throw new UncheckedIOException("cannot read the answer to: " + question, e);
            }
        }
    }
}
