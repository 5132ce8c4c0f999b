package org.evenwash.controller;

import java.util.concurrent.Callable;
import org.evenwash.controller.config.MistakenFile;
import org.evenwash.controller.pi4j.WiringException;
import org.evenwash.controller.store.OutboxFailure;
import org.evenwash.controller.store.OutboxRefused;
import picocli.AutoComplete;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.IVersionProvider;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** The controller's command line. Exit codes: 0 done, 1 failed while running, 2 wrong input, 3 busy. */
@Command(
        name = "evenwash-controller",
        description = "Runs one Evenwash bench: a motorised wash agitator for varroa monitoring.",
        mixinStandardHelpOptions = true,
        versionProvider = Main.VersionText.class,
        subcommands = {
            RunCommand.class,
            CheckCommand.class,
            ConfigCommand.class,
            RecipesCommand.class,
            StateCommand.class,
            SalvageCommand.class,
            ArchiveCommand.class,
            AutoComplete.GenerateCompletion.class
        })
public final class Main implements Callable<Integer> {
    static final int FAILED = 1;
    static final int WRONG_INPUT = 2;

    @Spec private CommandSpec spec;

    public static void main(String[] args) {
        LogFormat.text();
        System.exit(run(args));
    }

    static int run(String... args) {
        return commandLine(args)
                .setExecutionExceptionHandler(Main::explain)
                .setCaseInsensitiveEnumValuesAllowed(true)
                .execute(args);
    }

    /** A command that is named first is made alone: making all of them is a good part of a start. */
    static CommandLine commandLine(String... args) {
        String asked = args.length == 0 ? "" : args[0];
        Command all = Main.class.getAnnotation(Command.class);
        for (Class<?> one : all.subcommands()) {
            boolean needsNoOther = one.getPackage() == Main.class.getPackage();
            if (needsNoOther && one.getAnnotation(Command.class).name().equals(asked)) {
                return new CommandLine(CommandSpec.create().name(all.name()))
                        .addSubcommand(asked, new CommandLine(one));
            }
        }
        return new CommandLine(new Main());
    }

    /** What a person can put right is told in a sentence; anything else keeps its trace. */
    private static int explain(Exception e, CommandLine command, CommandLine.ParseResult parsed)
            throws Exception {
        if (e instanceof MistakenFile
                || e instanceof OutboxRefused
                || e instanceof WiringException) {
            command.getErr().println(e.getMessage());
            return WRONG_INPUT;
        }
        if (e instanceof OutboxFailure) {
            command.getErr().println(e.getMessage() + ". Look at the storage, then start again.");
            return FAILED;
        }
        throw e;
    }

    @Override
    public Integer call() {
        spec.commandLine().usage(spec.commandLine().getOut());
        return 0;
    }

    static final class VersionText implements IVersionProvider {
        @Override
        public String[] getVersion() {
            return new String[] {"evenwash-controller " + Version.OF_THIS};
        }
    }
}
