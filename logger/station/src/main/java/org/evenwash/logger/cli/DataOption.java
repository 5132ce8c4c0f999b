package org.evenwash.logger.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.evenwash.logger.DataFolder;
import org.evenwash.logger.file.WholeFile;
import org.evenwash.logger.store.Database;
import picocli.CommandLine.Option;

/** Where the station keeps its data; shared by all commands that touch it. */
final class DataOption {
    private static final String ROOT = "root";
    private static final String USER = System.getProperty("user.name");

    @Option(
            names = "--data",
            paramLabel = "DIR",
            description = "The station's data folder. Default: ${DEFAULT-VALUE}",
            defaultValue = "${env:EVENWASH_DATA:-evenwash-data}")
    Path folder;

    @Option(
            names = "--database",
            paramLabel = "URL",
            description = {
                "jdbc:postgresql://HOST/NAME?user=NAME where several people or loggers share one database;",
                "its password from the file that PGPASSFILE names (HOST:PORT:NAME:USER:PASSWORD) or from",
                "PGPASSWORD. Without this option, a SQLite file in the data folder."
            })
    private String url;

    /**
     * The database's address, null for the file in the folder.
     *
     * @throws BadInput if it holds a password, which every user of this machine could then read in its list
     *     of processes
     */
    String database() {
        if (url != null && url.toLowerCase(Locale.ROOT).matches(".*[?&]password=.*")) {
            throw new BadInput(
                    "a password in --database can be read by every user of this machine; put it into the"
                            + " file that PGPASSFILE names (HOST:PORT:NAME:USER:PASSWORD)");
        }
        return url;
    }

    /** The folder, for a command that makes files in it: a station cannot read those that root makes. */
    Path own() {
        if (ROOT.equals(USER)) {
            ofThisUser();
        }
        return folder;
    }

    /** As {@link #own}, for a command that may come before the first start. */
    Path made() {
        Path made = own();
        try {
            WholeFile.makeFolder(made);
        } catch (IOException e) {
            throw new BadInput("the data folder " + folder + " cannot be made: " + e);
        }
        return made;
    }

    /** Else another's folder, closed to this user, would read as one without a database. */
    private void mayBeUsed() {
        if (!Files.isWritable(folder)) {
            ofThisUser();
        }
    }

    private void ofThisUser() {
        if (!Files.isDirectory(folder)) {
            return;
        }
        String owner;
        try {
            owner = Files.getOwner(folder).getName();
        } catch (IOException e) {
            throw new BadInput("the data folder " + folder + " cannot be looked at: " + e);
        }
        if (!owner.equals(USER)) {
            throw new BadInput(
                    "the data folder %s belongs to the user %s; run the command as that user: sudo -u %s evenwash-logger ..."
                            .formatted(folder, owner, owner));
        }
    }

    /** As {@link #open}, but a folder that has none yet gets one: passwords are set before the start. */
    Database openOrMake() {
        if (database() != null) {
            return Database.open(url);
        }
        mayBeUsed();
        DataFolder.refuseHalfRestored(folder);
        return Database.open("jdbc:sqlite:" + DataFolder.database(made()));
    }

    /** Opens the database of a station that is there already. */
    Database open() {
        if (database() != null) {
            return Database.open(url);
        }
        mayBeUsed();
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
