package org.evenwash.logger.store;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.channels.FileChannel;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Optional;
import org.evenwash.logger.file.WholeFile;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A SQLite database into one file and back. Under its final name a file is whole: what is not finished has
 * a name of its own, and at whatever moment the program is killed, the database that was there still opens.
 */
public final class Backups {
    private static final DateTimeFormatter STAMP =
            DateTimeFormatter.ofPattern("yyyyMMdd-HHmmss").withZone(ZoneOffset.UTC);

    /** What SQLite keeps beside a database. Left beside another one, it would be taken for that one's. */
    private static final List<String> BESIDE = List.of("-wal", "-shm", "-journal");

    private static final Logger LOG = LoggerFactory.getLogger(Backups.class);

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
        Path held = file.resolveSibling(file.getFileName() + ".part-lock");
        try (FileChannel lock =
                FileChannel.open(held, StandardOpenOption.CREATE, StandardOpenOption.WRITE)) {
            if (!isOurs(lock)) {
                throw new DatabaseTrouble(
                        "another backup is being written to "
                                + file
                                + "; wait until it is done, or name another file");
            }
            try {
                writeAlone(database, file);
            } finally {
                Files.deleteIfExists(held);
            }
        } catch (IOException e) {
            throw notWritten(file, e);
        }
    }

    /** The lock goes with its channel, also when the program is killed. */
    private static boolean isOurs(FileChannel lock) throws IOException {
        try {
            return lock.tryLock() != null;
        } catch (OverlappingFileLockException e) {
            return false;
        }
    }

    private static void writeAlone(Database database, Path file) {
        if (Files.exists(file)) {
            throw new DatabaseTrouble(file + " is there already; name a new file");
        }
        Path part = file.resolveSibling(file.getFileName() + ".part");
        try {
            delete(part);
            // SQLite writes into an empty file, and leaves to it who may read it.
            WholeFile.makeEmpty(part);
            database.read(
                    handle ->
                            handle.createUpdate("VACUUM INTO :file")
                                    .bind("file", part.toString())
                                    .execute());
            check(part, part);
            // SQLite itself does not wait for the disk here.
            WholeFile.putInPlace(part, file);
        } catch (IOException | RuntimeException e) {
            discard(part, e);
            throw notWritten(file, e);
        }
    }

    private static DatabaseTrouble notWritten(Path file, Exception e) {
        return new DatabaseTrouble(
                "the backup cannot be written to " + file + ": " + elsewhere(e), e);
    }

    private static String elsewhere(Exception e) {
        String said = e instanceof IOException known ? words(known) : Refusal.in(e);
        return FileFault.in(e)
                .filter(fault -> fault != FileFault.DAMAGED && fault != FileFault.NO_DATABASE)
                .map(fault -> fault.words() + ", or name a file elsewhere (" + said + ")")
                .orElse(said);
    }

    private static String words(IOException e) {
        return e instanceof NoSuchFileException || e instanceof AccessDeniedException
                ? FileFault.NOT_WRITABLE.words()
                : String.valueOf(e.getMessage());
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
        Path incoming = incoming(database);
        if (backup.toAbsolutePath().normalize().equals(incoming.toAbsolutePath().normalize())) {
            throw new DatabaseTrouble(
                    backup + " is what an interrupted restore left; name the backup itself");
        }
        try {
            delete(incoming);
            copy(backup, incoming);
            check(incoming, backup);
            WholeFile.force(incoming);
            Optional<Path> before = keep(database);
            WholeFile.putInPlace(incoming, database);
            return before;
        } catch (IOException e) {
            discard(incoming, e);
            throw new DatabaseTrouble("the backup cannot be restored: " + words(e), e);
        } catch (RuntimeException e) {
            discard(incoming, e);
            throw e;
        }
    }

    /** Whether there is no database because a restore into its place was interrupted. */
    public static boolean isHalfRestored(Path database) {
        return !Files.exists(database) && Files.exists(incoming(database));
    }

    /** Half a file is of no use to anybody. */
    private static void discard(Path file, Exception why) {
        try {
            delete(file);
        } catch (IOException e) {
            why.addSuppressed(e);
        }
    }

    private static void delete(Path file) throws IOException {
        for (String suffix : BESIDE) {
            Files.deleteIfExists(Path.of(file + suffix));
        }
        Files.deleteIfExists(file);
    }

    private static Path incoming(Path database) {
        return database.resolveSibling(database.getFileName() + ".incoming");
    }

    /** With the latest changes, where they are still beside it, as beside a database that was kept. */
    private static void copy(Path backup, Path incoming) throws IOException {
        copyOne(backup, incoming);
        Path changes = Path.of(backup + "-wal");
        if (Files.exists(changes)) {
            copyOne(changes, Path.of(incoming + "-wal"));
        }
    }

    private static void copyOne(Path from, Path to) throws IOException {
        WholeFile.makeEmpty(to);
        try (OutputStream out = Files.newOutputStream(to)) {
            Files.copy(from, out);
        }
    }

    /**
     * The database stays in place under a second name, and is replaced in one step. The files beside it
     * belong to it and go away with it, also where it is gone itself: the restored one would take them for
     * its own.
     */
    private static Optional<Path> keep(Path database) throws IOException {
        String name = "before-restore-" + STAMP.format(Instant.now());
        Path kept = database.resolveSibling(name + ".db");
        for (int again = 2; Files.exists(kept); again++) {
            kept = database.resolveSibling(name + "-" + again + ".db");
        }
        boolean isThere = Files.exists(database);
        if (isThere) {
            takeInWhatIsBeside(database);
            link(database, kept);
        }
        for (String suffix : BESIDE) {
            Path beside = Path.of(database + suffix);
            if (Files.exists(beside)) {
                Files.move(beside, Path.of(kept + suffix));
            }
        }
        WholeFile.forceFolderOf(database);
        return isThere ? Optional.of(kept) : Optional.empty();
    }

    /** Then nothing is beside it that it would lack if the program were killed between two moves. */
    private static void takeInWhatIsBeside(Path database) {
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + database);
                Statement statement = connection.createStatement()) {
            statement.execute("PRAGMA wal_checkpoint(TRUNCATE)");
        } catch (SQLException e) {
            // Damaged, then; whoever tries to save something finds all of it under the other name.
            LOG.warn("the database that is replaced cannot be read: {}", e.getMessage());
        }
    }

    private static void link(Path database, Path kept) throws IOException {
        try {
            Files.createLink(kept, database);
        } catch (UnsupportedOperationException | IOException e) {
            // Some file systems of memory cards and shares know no second name.
            LOG.debug("copied, since it cannot be linked: {}", e.getMessage());
            copyOne(database, kept);
            WholeFile.force(kept);
        }
    }

    /** Opening checks every page and brings an older schema up to date, but would also fill an empty file. */
    private static void check(Path file, Path named) {
        if (!isOurs(file)) {
            throw new DatabaseTrouble(named + " is no finished backup of this program");
        }
        try {
            Database.open("jdbc:sqlite:" + file).close();
        } catch (DatabaseTrouble e) {
            throw new DatabaseTrouble(named + " is of no use: " + e.getMessage(), e);
        }
    }

    private static boolean isOurs(Path file) {
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file);
                Statement statement = connection.createStatement();
                ResultSet found =
                        statement.executeQuery(
                                "SELECT 1 FROM sqlite_master WHERE name = 'flyway_schema_history'")) {
            return found.next();
        } catch (SQLException e) {
            // What else is wrong, opening it says better.
            return FileFault.in(e).orElse(null) != FileFault.NO_DATABASE;
        }
    }
}
