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
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Consumer;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.config.MistakenFile;
import org.evenwash.controller.panel.Keyboard;
import org.evenwash.controller.panel.PanelText;
import org.evenwash.controller.panel.TerminalPanel;
import org.evenwash.controller.pi4j.Pi4jBench;
import org.evenwash.controller.process.ProofRecord;
import org.evenwash.controller.process.State;
import org.evenwash.controller.process.Status;
import org.evenwash.controller.store.OutboxRefused;
import org.evenwash.controller.systemd.Watchdog;
import org.slf4j.LoggerFactory;
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
    private static final double SLOWEST = 0.1;
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

    @Option(
            names = "--json-log",
            description = {
                "Everything that is told, as one JSON object a line on the error output, for programs",
                "that collect logs. No panel then."
            })
    private boolean jsonLog;

    private final PrintStream out = new PrintStream(System.out, true, StandardCharsets.UTF_8);
    private Status told;

    @Override
    public Integer call() throws MistakenFile, OutboxRefused, IOException, InterruptedException {
        if (jsonLog) {
            LogFormat.json();
        }
        Configuration read = adjusted(config.read());
        checkOptions();
        boolean panel = script == null && !noPanel && !jsonLog && Keyboard.isThere();
        Consumer<Status> watcher = panel ? status -> {} : this::tell;
        if (simulate) {
            SimulatedController.Play play =
                    new SimulatedController.Play(speed, 1, Instant.now(), bare);
            SimulatedController bench = SimulatedController.start(read, play, watcher);
            return serve(bench.controller(), bench, panel);
        }
        AtomicReference<Controller> controller = new AtomicReference<>();
        try (Pi4jBench board = Pi4jBench.open(BoardWiring.of(read), () -> wake(controller))) {
            controller.set(new Controller(read, on(board), watcher).start());
            return serve(controller.get(), null, panel);
        }
    }

    private void checkOptions() {
        if (!(speed >= SLOWEST && speed <= FASTEST)) {
            throw wrong("--speed is " + speed + ", expected 0.1 to 1000");
        }
        if (script != null && !script.equals("-")) {
            throw wrong("--script takes '-' alone: acts come from standard input");
        }
        if (!simulate && (speed != 1 || script != null || bare)) {
            throw wrong("--speed, --script and --bare are for a simulated bench: add --simulate");
        }
    }

    private ParameterException wrong(String what) {
        return new ParameterException(spec.commandLine(), what);
    }

    /** A real bench starts unproven: only its own outbox can say otherwise. */
    private static Controller.Bench on(Pi4jBench board) {
        return new Controller.Bench(
                false,
                new SystemClock(),
                ControlLoop.REAL_TIME,
                board.sensors(),
                board.actuators(),
                board.buttons(),
                ProofRecord.NEVER);
    }

    private static void wake(AtomicReference<Controller> controller) {
        Controller there = controller.get();
        if (there != null) {
            there.wake();
        }
    }

    private int serve(Controller controller, SimulatedController simulated, boolean panel)
            throws IOException, InterruptedException {
        CountDownLatch over = new CountDownLatch(1);
        Thread farewell = new Thread(() -> end(controller, over), "farewell");
        Runtime.getRuntime().addShutdownHook(farewell);
        var unused = Watchdog.start(System.getenv(), controller::scans);
        if (script != null) {
            new HandScript(simulated, out).run(standardInput());
        } else if (panel) {
            panel(controller, over);
        } else {
            controller.awaitEnd();
        }
        end(controller, over);
        return controller.awaitEnd() ? 0 : 1;
    }

    /** Once, whoever comes first: the end of the input or a signal. */
    private static synchronized void end(Controller controller, CountDownLatch over) {
        if (over.getCount() > 0) {
            over.countDown();
            controller.close();
        }
    }

    private void panel(Controller controller, CountDownLatch over)
            throws IOException, InterruptedException {
        boolean colour = !noColour && System.getenv("NO_COLOR") == null;
        try (Keyboard keyboard = new Keyboard()) {
            keyboard.open();
            new TerminalPanel(
                            out,
                            controller::status,
                            () -> words(controller),
                            controller.panel()::press,
                            controller.panel()::choose,
                            simulate || Keyboard.isPluggedIn(),
                            colour)
                    .run(System.in, () -> over.getCount() == 0);
        }
    }

    private static List<String> words(Controller controller) {
        Status now = controller.status();
        return controller.desk().words(now != null && now.cycleId() != null);
    }

    /**
     * One line for each change worth one, and each new prompt: without a panel this is all an
     * operator reads. On the scan's thread: printing is its only delay.
     */
    private void tell(Status now) {
        boolean news =
                told == null
                        || now.state() != told.state()
                        || now.bout() != told.bout()
                        || now.step() != told.step()
                        || !now.refused().equals(told.refused())
                        || !now.tripped().equals(told.tripped());
        boolean asks = !now.prompt().isEmpty() && now.state() != State.RUNNING;
        boolean asksAnew = asks && (news || !now.prompt().equals(told.prompt()));
        if (news) {
            say(PanelText.line(now));
        }
        if (asksAnew) {
            say(jsonLog ? now.prompt() : "  " + now.prompt());
        }
        told = now;
    }

    private void say(String line) {
        if (jsonLog) {
            LoggerFactory.getLogger(RunCommand.class).info(line);
        } else {
            out.println(line);
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
