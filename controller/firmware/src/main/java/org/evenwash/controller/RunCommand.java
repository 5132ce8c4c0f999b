package org.evenwash.controller;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.config.MistakenFile;
import org.evenwash.controller.panel.Keyboard;
import org.evenwash.controller.panel.PanelText;
import org.evenwash.controller.panel.TerminalPanel;
import org.evenwash.controller.process.State;
import org.evenwash.controller.process.Status;
import org.evenwash.controller.store.OutboxRefused;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Runs the bench until it is told to end. */
@Command(
        name = "run",
        description = "Runs the bench. Motion starts only at the bench itself, never from afar.",
        mixinStandardHelpOptions = true)
final class RunCommand implements Callable<Integer> {
    private static final double FASTEST = 1_000;

    @Spec private CommandSpec spec;
    @Mixin private ConfigOption config;

    @Option(names = "--simulate", description = "Runs on a simulated bench; records say so.")
    private boolean simulate;

    @Option(
            names = "--speed",
            paramLabel = "N",
            defaultValue = "1",
            description = "With --simulate: N times as fast as real time, 0.1 to 1000.")
    private double speed;

    @Option(
            names = "--script",
            paramLabel = "-",
            description =
                    "With --simulate: takes acts as lines from standard input ('help' lists them).")
    private String script;

    @Option(
            names = "--bare",
            description =
                    "With --simulate: a bench that nothing was done to: not proven, not armed, no jar.")
    private boolean bare;

    @Option(
            names = "--data",
            paramLabel = "FOLDER",
            description = "Where records are kept, instead of the folder in the settings.")
    private Path data;

    @Option(names = "--broker-port", paramLabel = "PORT", description = "Instead of the settings'.")
    private Integer brokerPort;

    @Option(names = "--no-panel", description = "No panel in this terminal, one line a change.")
    private boolean noPanel;

    @Option(names = "--no-colour", description = "A panel without ANSI codes.")
    private boolean noColour;

    private final PrintStream out = new PrintStream(System.out, true, StandardCharsets.UTF_8);
    private Status told;

    @Override
    public Integer call() throws MistakenFile, OutboxRefused, IOException, InterruptedException {
        Configuration read = adjusted(config.read());
        if (!simulate) {
            throw new ParameterException(
                    spec.commandLine(), "Only --simulate is built into this program yet.");
        }
        if (!(speed >= 0.1 && speed <= FASTEST)) {
            throw new ParameterException(
                    spec.commandLine(), "--speed is " + speed + ", expected 0.1 to 1000");
        }
        if (script != null && !script.equals("-")) {
            throw new ParameterException(
                    spec.commandLine(), "--script takes '-' alone: acts come from standard input");
        }
        boolean panel = script == null && !noPanel && Keyboard.isThere();
        SimulatedController bench =
                SimulatedController.start(
                        read,
                        new SimulatedController.Play(speed, 1, Instant.now(), bare),
                        panel ? status -> {} : this::tell);
        return serve(bench, panel);
    }

    private int serve(SimulatedController bench, boolean panel)
            throws IOException, InterruptedException {
        CountDownLatch over = new CountDownLatch(1);
        Thread farewell = new Thread(() -> end(bench, over), "farewell");
        Runtime.getRuntime().addShutdownHook(farewell);
        if (script != null) {
            new HandScript(bench, out).run(standardInput());
        } else if (panel) {
            panel(bench, over);
        } else {
            bench.controller().awaitEnd();
        }
        end(bench, over);
        return bench.controller().awaitEnd() ? 0 : 1;
    }

    private static synchronized void end(SimulatedController bench, CountDownLatch over) {
        if (over.getCount() > 0) {
            bench.close();
            over.countDown();
        }
    }

    private void panel(SimulatedController bench, CountDownLatch over)
            throws IOException, InterruptedException {
        boolean colour = !noColour && System.getenv("NO_COLOR") == null;
        try (Keyboard keyboard = new Keyboard()) {
            keyboard.open();
            new TerminalPanel(
                            out,
                            bench::status,
                            () -> tickets(bench),
                            bench::press,
                            bench::choose,
                            true,
                            colour)
                    .run(System.in, () -> over.getCount() == 0);
        }
    }

    private static List<String> tickets(SimulatedController bench) {
        return bench.tickets().stream()
                .map(
                        t ->
                                "position %d: %s, %s pass"
                                        .formatted(
                                                t.position(),
                                                t.colony() == null
                                                        ? "colony not named"
                                                        : t.colony(),
                                                t.pass()))
                .toList();
    }

    /** One line for each change worth one. On the scan's thread: printing is its only delay. */
    private void tell(Status now) {
        boolean news =
                told == null
                        || now.state() != told.state()
                        || now.bout() != told.bout()
                        || now.step() != told.step()
                        || !now.refused().equals(told.refused())
                        || !now.tripped().equals(told.tripped());
        if (news) {
            out.println(PanelText.line(now));
            if (!now.prompt().isEmpty() && now.state() != State.RUNNING) {
                out.println("  " + now.prompt());
            }
            told = now;
        }
    }

    private Configuration adjusted(Configuration read) {
        Configuration.Broker broker = read.broker();
        if (brokerPort != null) {
            broker =
                    new Configuration.Broker(
                            broker.host(),
                            brokerPort,
                            broker.user(),
                            broker.passwordFile(),
                            broker.tls(),
                            broker.caFile());
        }
        Path folder = data != null ? data : read.dataFolder();
        if (data == null && simulate && !config.given()) {
            // A first try needs no root and leaves nothing behind in the system.
            folder = Path.of(System.getProperty("java.io.tmpdir"), "evenwash-simulated-bench");
        }
        return read.at(folder, broker);
    }

    private static BufferedReader standardInput() {
        return new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8));
    }
}
