package org.evenwash.logger.cli;

import java.nio.file.Path;
import java.util.concurrent.Callable;
import org.evenwash.logger.store.Backups;
import org.evenwash.logger.store.Database;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

@Command(
        name = "backup",
        description = {
            "Writes the whole database into one file; the station may go on running.",
            "A PostgreSQL database is backed up with its own pg_dump."
        },
        mixinStandardHelpOptions = true)
final class Backup implements Callable<Integer> {
    @Mixin DataOption data;
    @Spec CommandSpec spec;

    @Parameters(paramLabel = "FILE", description = "Must not be there yet.")
    Path file;

    @Override
    public Integer call() {
        try (Database database = data.open()) {
            Backups.write(database, file);
        }
        spec.commandLine().getOut().println("Backup written and checked: " + file);
        spec.commandLine().getOut().flush();
        return ExitCode.RESULT;
    }
}
