package org.evenwash.logger.cli;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Clock;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.transfer.Exporting;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

@Command(
        name = "export",
        description = {
            "Writes everything that is kept: CSV files in a ZIP, or one JSON document.",
            "washes.csv in the ZIP can be imported again. The station may go on running.",
            "To move or save a whole logger, use backup instead."
        },
        mixinStandardHelpOptions = true)
final class ExportCommand implements Callable<Integer> {
    @Mixin DataOption data;
    @Spec CommandSpec spec;

    @Parameters(paramLabel = "FILE", description = "Ends in .zip or .json; must not be there yet.")
    Path file;

    @Override
    public Integer call() {
        String name = file.toString().toLowerCase(Locale.ROOT);
        if (!name.endsWith(".zip") && !name.endsWith(".json")) {
            throw new BadInput(file + ": name a file that ends in .zip or .json.");
        }
        try (Database database = data.open();
                OutputStream out =
                        new BufferedOutputStream(
                                Files.newOutputStream(file, StandardOpenOption.CREATE_NEW))) {
            Exporting exporting = new Exporting(database, Clock.systemUTC());
            if (name.endsWith(".zip")) {
                exporting.csv(out);
            } else {
                exporting.json(out);
            }
        } catch (FileAlreadyExistsException there) {
            throw new BadInput(file + " is there already; name a new file.", there);
        } catch (IOException e) {
            throw new BadInput(file + " cannot be written: " + e.getMessage(), e);
        }
        spec.commandLine().getOut().println("Exported to " + file);
        spec.commandLine().getOut().flush();
        return ExitCode.RESULT;
    }
}
