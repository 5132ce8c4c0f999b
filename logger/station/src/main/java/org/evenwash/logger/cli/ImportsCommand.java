package org.evenwash.logger.cli;

import java.io.PrintWriter;
import java.time.Clock;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import java.util.concurrent.Callable;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.ImportFile;
import org.evenwash.logger.transfer.Importing;
import org.evenwash.logger.wash.By;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

@Command(
        name = "imports",
        description = "Files of old records that were brought in: list them, undo one.",
        mixinStandardHelpOptions = true,
        subcommands = {ImportsCommand.ListThem.class, ImportsCommand.Undo.class})
final class ImportsCommand implements Callable<Integer> {
    @Spec CommandSpec spec;

    @Override
    public Integer call() {
        spec.commandLine().usage(spec.commandLine().getOut());
        return ExitCode.WRONG_INPUT;
    }

    @Command(
            name = "list",
            description = "Lists the latest, newest first.",
            mixinStandardHelpOptions = true)
    static final class ListThem implements Callable<Integer> {
        @Mixin DataOption data;
        @Spec CommandSpec spec;

        @Override
        public Integer call() {
            PrintWriter out = spec.commandLine().getOut();
            try (Database database = data.open()) {
                List<ImportFile> files = new Importing(database, Clock.systemUTC()).files();
                for (ImportFile file : files) {
                    out.printf(
                            "%s  %-8s  %s  %s%n",
                            file.id(),
                            file.standing().name().toLowerCase(Locale.ROOT),
                            file.uploadedAt(),
                            file.name());
                    if (file.undoneWhy() != null) {
                        out.println("    undone " + file.undoneAt() + ": " + file.undoneWhy());
                    }
                }
                if (files.isEmpty()) {
                    out.println("No file was brought in.");
                }
                out.flush();
            }
            return ExitCode.RESULT;
        }
    }

    @Command(
            name = "undo",
            description = {
                "Takes all washes of an import out again, and what was made for them.",
                "Refused once something was built on one of them."
            },
            mixinStandardHelpOptions = true)
    static final class Undo implements Callable<Integer> {
        @Mixin DataOption data;
        @Spec CommandSpec spec;

        @Parameters(paramLabel = "ID", description = "As printed by list.")
        UUID id;

        @Option(
                names = "--why",
                required = true,
                paramLabel = "TEXT",
                description = "Kept with it.")
        String why;

        @Override
        public Integer call() {
            PrintWriter out = spec.commandLine().getOut();
            try (Database database = data.open()) {
                Importing importing = new Importing(database, Clock.systemUTC());
                ImportFile file = importing.undo(id, why, By.nobody());
                out.println("The import of " + file.name() + " is undone.");
                out.flush();
            }
            return ExitCode.RESULT;
        }
    }
}
