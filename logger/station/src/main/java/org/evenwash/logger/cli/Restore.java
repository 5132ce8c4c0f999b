package org.evenwash.logger.cli;

import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.evenwash.logger.DataFolder;
import org.evenwash.logger.store.Backups;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

@Command(
        name = "restore",
        description = {
            "Puts a backup in place of the database of a stopped station.",
            "The database that was there is kept beside it. Benches that come back are asked for what",
            "the backup does not hold.",
            "A PostgreSQL database is restored with its own pg_restore."
        },
        mixinStandardHelpOptions = true)
final class Restore implements Callable<Integer> {
    @Mixin DataOption data;
    @Spec CommandSpec spec;

    @Parameters(paramLabel = "FILE", description = "As written by backup.")
    Path file;

    @Override
    public Integer call() {
        if (data.database() != null) {
            throw new BadInput(
                    "a PostgreSQL database is restored with its own program, every logger stopped:"
                            + " pg_restore --clean --if-exists --dbname=NAME "
                            + file);
        }
        try (DataFolder folder = DataFolder.take(data.own())) {
            Optional<Path> before = Backups.restore(file, folder.database());
            spec.commandLine().getOut().println("Restored " + file + " into " + data.folder);
            before.ifPresent(
                    kept ->
                            spec.commandLine()
                                    .getOut()
                                    .println("What was there before is kept as " + kept));
            spec.commandLine().getOut().flush();
            return ExitCode.RESULT;
        }
    }
}
