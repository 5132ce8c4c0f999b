package org.evenwash.logger.store;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Optional;

/** A SQLite database into one file and back. */
public final class Backups {
    private static final DateTimeFormatter STAMP =
            DateTimeFormatter.ofPattern("yyyyMMdd-HHmmss").withZone(ZoneOffset.UTC);

    private Backups() {}

    /**
     * Writes a consistent copy while the station goes on, and checks it.
     *
     * @throws DatabaseTrouble if the file is there already or cannot be written
     */
    public static void write(Database database, Path file) {
        if (!database.sqlite()) {
            throw new DatabaseTrouble(
                    "PostgreSQL has its own program for this, which also works while loggers run: pg_dump"
                            + " --format=custom --file="
                            + file
                            + " "
                            + database.address()
                            + " (back again with every logger stopped: pg_restore --clean --if-exists"
                            + " --dbname="
                            + database.address()
                            + " "
                            + file
                            + ")");
        }
        if (Files.exists(file)) {
            throw new DatabaseTrouble(file + " is there already; name a new file");
        }
        try {
            database.read(
                    handle ->
                            handle.createUpdate("VACUUM INTO :file")
                                    .bind("file", file.toString())
                                    .execute());
        } catch (RuntimeException e) {
            throw new DatabaseTrouble(
                    "the backup cannot be written to " + file + ": " + e.getMessage(), e);
        }
        check(file);
    }

    /**
     * Puts a backup in place of a database that nobody has open.
     *
     * @return where the database that was there is kept, empty if there was none
     * @throws DatabaseTrouble if the backup is missing, damaged or from a newer program
     */
    public static Optional<Path> restore(Path backup, Path database) {
        if (!Files.isRegularFile(backup)) {
            throw new DatabaseTrouble(backup + " is no file; name the backup to restore");
        }
        Path incoming = database.resolveSibling(database.getFileName() + ".incoming");
        try {
            Files.copy(backup, incoming, StandardCopyOption.REPLACE_EXISTING);
            check(incoming);
            Optional<Path> before = keep(database);
            Files.move(incoming, database, StandardCopyOption.ATOMIC_MOVE);
            return before;
        } catch (IOException e) {
            throw new DatabaseTrouble("the backup cannot be restored: " + e, e);
        }
    }

    /** The write-ahead files belong to the database and go with it. */
    private static Optional<Path> keep(Path database) throws IOException {
        if (!Files.exists(database)) {
            return Optional.empty();
        }
        Path kept =
                database.resolveSibling("before-restore-" + STAMP.format(Instant.now()) + ".db");
        for (String suffix : new String[] {"-wal", "-shm"}) {
            Path beside = Path.of(database + suffix);
            if (Files.exists(beside)) {
                Files.move(beside, Path.of(kept + suffix));
            }
        }
        return Optional.of(Files.move(database, kept));
    }

    /** Opening checks every page and brings an older schema up to date. */
    private static void check(Path file) {
        Database.open("jdbc:sqlite:" + file).close();
    }
}
