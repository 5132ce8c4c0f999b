package org.evenwash.controller;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import org.evenwash.controller.config.MistakenFile;
import org.evenwash.controller.process.State;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Says how the bench stands, for people and for scripts that must not interrupt a wash, such as an upgrade. */
@Command(
        name = "state",
        description = {
            "Prints the state of the controller that runs on this computer, OFFLINE when none does.",
            "Exit code 0: it is IDLE or OFFLINE and may be stopped; 3: it is busy."
        },
        mixinStandardHelpOptions = true)
final class StateCommand implements Callable<Integer> {
    /** The exit code of a bench that must not be stopped now. */
    static final int BUSY = 3;

    private static final long LOOK_EVERY_MS = 500;
    private static final int LONGEST_S = 24 * 3600;

    @Spec private CommandSpec spec;
    @Mixin private ConfigOption config;

    @Option(
            names = "--data",
            paramLabel = "FOLDER",
            description = "The bench's data folder, instead of the one in the settings.")
    private Path data;

    @Option(
            names = "--wait-idle",
            paramLabel = "SECONDS",
            defaultValue = "0",
            description = "Waits at most so long for it to be IDLE, 0 to 86400. Default: 0.")
    private int wait_s;

    @Override
    public Integer call() throws MistakenFile, InterruptedException {
        if (wait_s < 0 || wait_s > LONGEST_S) {
            throw new ParameterException(
                    spec.commandLine(),
                    "--wait-idle is " + wait_s + ", expected 0 to " + LONGEST_S);
        }
        Path folder = data != null ? data : config.read().dataFolder();
        PrintWriter out = spec.commandLine().getOut();
        try {
            String state = await(folder, System.nanoTime() + TimeUnit.SECONDS.toNanos(wait_s));
            out.println(state);
            out.flush();
            if (interruptible(state)) {
                return 0;
            }
            spec.commandLine()
                    .getErr()
                    .println(
                            "The bench is busy: let the wash end, take the jar out and press START"
                                    + " (reset), then try again.");
            return BUSY;
        } catch (IOException e) {
            spec.commandLine()
                    .getErr()
                    .println(
                            "%s cannot be looked at (%s). Run this as root or as the controller's user."
                                    .formatted(folder, e.getMessage()));
            return Main.WRONG_INPUT;
        }
    }

    private static String await(Path folder, long end_ns) throws IOException, InterruptedException {
        String state = DataFolder.look(folder);
        while (!interruptible(state) && System.nanoTime() < end_ns) {
            TimeUnit.MILLISECONDS.sleep(LOOK_EVERY_MS);
            state = DataFolder.look(folder);
        }
        return state;
    }

    private static boolean interruptible(String state) {
        return state.equals(State.IDLE.name()) || state.equals(DataFolder.NOBODY);
    }
}
