package org.evenwash.logger.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.evenwash.logger.DataFolder;
import org.evenwash.logger.store.Database;
import picocli.CommandLine.Option;

/** Where the station keeps its data; shared by all commands that touch it. */
final class DataOption {
    @Option(
            names = "--data",
            paramLabel = "DIR",
            description = "The station's data folder. Default: ${DEFAULT-VALUE}",
            defaultValue = "evenwash-data")
    Path folder;

    @Option(
            names = "--database",
            paramLabel = "URL",
            description = {
                "jdbc:postgresql://HOST/NAME?user=NAME where several people or loggers share one database;",
                "its password from the file that PGPASSFILE names (HOST:PORT:NAME:USER:PASSWORD) or from",
                "PGPASSWORD. Without this option, a SQLite file in the data folder."
            })
    String url;

    /** As {@link #open}, but a folder that has none yet gets one: passwords are set before the start. */
    Database openOrMake() {
        if (url != null) {
            return Database.open(url);
        }
        try {
            Files.createDirectories(folder);
        } catch (IOException e) {
            throw new BadInput("the data folder " + folder + " cannot be made: " + e);
        }
        return Database.open("jdbc:sqlite:" + DataFolder.database(folder));
    }

    /** Opens the database of a station that is there already. */
    Database open() {
        if (url != null) {
            return Database.open(url);
        }
        Path file = DataFolder.database(folder);
        if (!Files.exists(file)) {
            throw new BadInput(
                    "no database in "
                            + folder
                            + " (looked for "
                            + file
                            + "); name the station's folder with --data");
        }
        return Database.open("jdbc:sqlite:" + file);
    }
}
