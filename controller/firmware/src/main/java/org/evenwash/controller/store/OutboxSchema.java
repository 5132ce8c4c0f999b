package org.evenwash.controller.store;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Arrays;
import java.util.List;
import java.util.UUID;
import org.evenwash.record.Messages;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteErrorCode;
import org.sqlite.SQLiteException;
import org.sqlite.SQLiteOpenMode;

/**
 * Tables of the outbox file and how an older file becomes a current one. The file is judged before anything
 * is written to it: whose it is by its header, its version and its health by SQLite, which reads the log beside
 * the file as well.
 */
final class OutboxSchema {
    /** SQLite's application_id: "EvWo" in ASCII. */
    private static final int MARK = 0x4576576F;

    /** SQLite keeps 2,000 KiB unless told, and a bench's memory would grow until its outbox is that large. */
    private static final int PAGES_KEPT_KIB = 256;

    private static final byte[] SQLITE = "SQLite format 3\0".getBytes(StandardCharsets.US_ASCII);
    private static final int HEADER_BYTES = 100;
    private static final int USER_VERSION_AT = 60;
    private static final int APPLICATION_ID_AT = 68;

    private static final Logger LOG = LoggerFactory.getLogger(OutboxSchema.class);

    /** Step {@code n}, counted from 1, makes version {@code n} of version {@code n - 1}. */
    private static final List<List<String>> STEPS =
            List.of(
                    List.of(
                            """
                            CREATE TABLE outbox (
                                only_row INTEGER PRIMARY KEY CHECK (only_row = 1),
                                outbox_id TEXT NOT NULL,
                                last_sequence INTEGER NOT NULL,
                                probes INTEGER NOT NULL)
                            """,
                            """
                            CREATE TABLE message (
                                sequence INTEGER PRIMARY KEY,
                                message_id TEXT NOT NULL UNIQUE,
                                kind TEXT NOT NULL,
                                payload BLOB NOT NULL,
                                sha256 TEXT NOT NULL,
                                released_at_ms INTEGER,
                                result TEXT,
                                reason TEXT)
                            """,
                            "CREATE INDEX message_unreleased ON message (sequence)"
                                    + " WHERE released_at_ms IS NULL",
                            "CREATE TABLE draft (cycle_id TEXT PRIMARY KEY, record BLOB NOT NULL)",
                            "CREATE TABLE unreadable_draft (record BLOB NOT NULL, reason TEXT NOT NULL)",
                            "CREATE TABLE fact (name TEXT PRIMARY KEY, value TEXT NOT NULL)"));

    private OutboxSchema() {}

    /** What a new outbox begins with. */
    interface Contents {
        void writeTo(Connection connection) throws SQLException;
    }

    static Connection open(Path file) throws OutboxRefused {
        return open(file, STEPS);
    }

    /** With steps of one's own, so that a test can look at a newer program and an older file. */
    static Connection open(Path file, List<List<String>> steps) throws OutboxRefused {
        try {
            Replacement replacement = new Replacement(file);
            if (replacement.isHalfDone()) {
                replacement.finish();
                LOG.warn(
                        "A salvage of {} had been interrupted: what it saved is in place now. The damaged outbox"
                                + " is in the folder beside it whose name begins with {}.put-aside. Keep it.",
                        file,
                        file.getFileName());
            } else if (Files.notExists(file)) {
                make(file, replacement, steps);
            }
            int version = examine(file, steps.size());
            Connection connection = connect(file);
            if (version < steps.size()) {
                migrate(file, connection, version, steps);
            }
            if (header(file).getInt(USER_VERSION_AT) != steps.size()) {
                writeBack(file, connection);
            }
            return connection;
        } catch (SQLException | IOException e) {
            throw cannotBeOpened(file, e);
        }
    }

    static OutboxRefused cannotBeOpened(Path file, Exception e) {
        return new OutboxRefused(
                file,
                "cannot be opened as the outbox (" + e.getMessage().replace('\n', ' ') + ")",
                "Check that the folder is there, has room, and may be written by the controller's user",
                e);
    }

    private static void make(Path file, Replacement replacement, List<List<String>> steps)
            throws SQLException, IOException {
        Files.createDirectories(file.toAbsolutePath().getParent());
        if (replacement.hasRemains()) {
            // SQLite would take the log of the file that was here for the new one's.
            LOG.warn(
                    "{} is not there, but what belonged to it is: moved to {}. Put it beside that file again"
                            + " before that is read.",
                    file,
                    replacement.moveAway());
        }
        Path made = prepare(file, steps, connection -> begin(connection, UUID.randomUUID(), 0));
        Files.move(made, file, StandardCopyOption.ATOMIC_MOVE);
    }

    static Path prepare(Path file, Contents contents) throws SQLException, IOException {
        return prepare(file, STEPS, contents);
    }

    /** Made aside, to be renamed: a crash leaves the whole file or none. */
    private static Path prepare(Path file, List<List<String>> steps, Contents contents)
            throws SQLException, IOException {
        Path aside = Replacement.beside(file, ".new");
        for (String suffix : Replacement.SUFFIXES) {
            Files.deleteIfExists(Replacement.beside(aside, suffix));
        }
        SQLiteConfig config = new SQLiteConfig();
        config.setSynchronous(SQLiteConfig.SynchronousMode.FULL);
        try (Connection connection = config.createConnection("jdbc:sqlite:" + aside);
                Statement statement = connection.createStatement()) {
            statement.execute("PRAGMA application_id = " + MARK);
            statement.execute("BEGIN");
            runSteps(statement, 0, steps);
            contents.writeTo(connection);
            statement.execute("COMMIT");
            // Here, where a crash leaves nothing: amid this change a file cannot be read without
            // writing.
            statement.execute("PRAGMA journal_mode = WAL");
        }
        return aside;
    }

    static void begin(Connection connection, UUID outboxId, long lastSequence) throws SQLException {
        try (PreparedStatement insert =
                connection.prepareStatement("INSERT INTO outbox VALUES (1, ?, ?, 0)")) {
            insert.setString(1, outboxId.toString());
            insert.setLong(2, lastSequence);
            insert.executeUpdate();
        }
    }

    private static void runSteps(Statement statement, int from, List<List<String>> steps)
            throws SQLException {
        for (int step = from; step < steps.size(); step++) {
            for (String sql : steps.get(step)) {
                statement.execute(sql);
            }
        }
        statement.execute("PRAGMA user_version = " + steps.size());
    }

    /** The first bytes of the file, when they are those of an outbox. */
    private static ByteBuffer header(Path file) throws IOException, OutboxRefused {
        ByteBuffer header = ByteBuffer.allocate(HEADER_BYTES);
        try (RandomAccessFile bytes = new RandomAccessFile(file.toFile(), "r")) {
            if (bytes.length() < HEADER_BYTES) {
                throw damaged(file, "it is too short to be an outbox", null);
            }
            bytes.readFully(header.array());
        }
        boolean isSqlite =
                Arrays.equals(header.array(), 0, SQLITE.length, SQLITE, 0, SQLITE.length);
        if (!isSqlite || header.getInt(APPLICATION_ID_AT) != MARK) {
            throw new OutboxRefused(
                    file,
                    "was not made by this program",
                    "Name another data folder, or move the file away, together with those of the same name"
                            + " that end in -wal and -shm");
        }
        return header;
    }

    static int examine(Path file) throws SQLException, IOException, OutboxRefused {
        return examine(file, STEPS.size());
    }

    /**
     * Reads the whole file without being able to change it.
     *
     * @return the version of its schema, as its log has it: the header may be older
     */
    private static int examine(Path file, int known)
            throws SQLException, IOException, OutboxRefused {
        header(file);
        String found;
        try (Connection connection = readOnly(file);
                Statement statement = connection.createStatement()) {
            int version = version(statement);
            if (version > known) {
                throw new OutboxRefused(
                        file,
                        "was made by a newer version of this program (format %d, known here up to %d)"
                                .formatted(version, known),
                        "Install the newer version again; its records are safe in the file");
            }
            found = check(statement);
            if (found.equals("ok")) {
                return version;
            }
        } catch (SQLException e) {
            if (isDamage(e)) {
                throw damaged(file, e.getMessage(), e);
            }
            throw e;
        }
        throw damaged(file, found, null);
    }

    static Connection readOnly(Path file) throws SQLException {
        SQLiteConfig config = new SQLiteConfig();
        config.setReadOnly(true);
        config.setOpenMode(SQLiteOpenMode.READONLY);
        config.resetOpenMode(SQLiteOpenMode.CREATE);
        return config.createConnection("jdbc:sqlite:" + file);
    }

    private static int version(Statement statement) throws SQLException {
        try (ResultSet row = statement.executeQuery("PRAGMA user_version")) {
            return row.getInt(1);
        }
    }

    /**
     * Whether it is the file that is not well. Most else passes, such as a full card, and the file is then as
     * good as before. A statement that makes no sense finds other tables than were made.
     */
    private static boolean isDamage(SQLException e) {
        if (!(e instanceof SQLiteException sqlite)) {
            return false;
        }
        SQLiteErrorCode code = sqlite.getResultCode();
        int kind = code.code & 0xFF;
        return kind == SQLiteErrorCode.SQLITE_CORRUPT.code
                || kind == SQLiteErrorCode.SQLITE_NOTADB.code
                || code == SQLiteErrorCode.SQLITE_ERROR
                || code == SQLiteErrorCode.SQLITE_IOERR_READ;
    }

    /** SQLite checks how its pages hang together, the hashes what stands in them. */
    private static String check(Statement statement) throws SQLException {
        try (ResultSet rows = statement.executeQuery("PRAGMA integrity_check(1)")) {
            String found = rows.next() ? rows.getString(1) : "no answer";
            if (!found.equals("ok")) {
                return found;
            }
        }
        try (ResultSet row = statement.executeQuery("SELECT outbox_id FROM outbox")) {
            if (!row.next() || !isId(row.getString(1))) {
                return "the outbox's own id is not as it was written";
            }
        }
        try (ResultSet rows =
                statement.executeQuery(
                        "SELECT sequence, message_id, kind, payload, sha256 FROM message"
                                + " WHERE released_at_ms IS NULL")) {
            while (rows.next()) {
                if (!isWhole(rows)) {
                    return "message %d is not as it was written".formatted(rows.getLong(1));
                }
            }
        }
        return "ok";
    }

    private static boolean isId(String text) {
        try {
            return UUID.fromString(text).toString().equals(text);
        } catch (IllegalArgumentException e) {
            return false;
        }
    }

    private static boolean isWhole(ResultSet rows) throws SQLException {
        try {
            OutboxFile.Row row = OutboxFile.row(rows);
            return row.payload() != null && Messages.sha256(row.payload()).equals(row.sha256());
        } catch (IllegalArgumentException e) {
            return false; // no such kind, or no id
        }
    }

    private static OutboxRefused damaged(Path file, String found, Throwable cause) {
        return OutboxRefused.damaged(
                file,
                "is damaged (" + found.replace('\n', ' ') + ")",
                "Stop the controller's service. Then `evenwash-controller salvage --data "
                        + file.toAbsolutePath().getParent()
                        + "` puts it aside, with those of the same name that end in -wal and -shm, and saves"
                        + " into a new one what can be read",
                cause);
    }

    private static Connection connect(Path file) throws SQLException {
        SQLiteConfig config = new SQLiteConfig();
        config.setJournalMode(SQLiteConfig.JournalMode.WAL);
        config.setSynchronous(SQLiteConfig.SynchronousMode.FULL);
        config.setBusyTimeout(2_000);
        config.setCacheSize(-PAGES_KEPT_KIB);
        return config.createConnection("jdbc:sqlite:" + file);
    }

    /** Keeps a copy of the older file beside it, for whoever must go back. */
    private static void migrate(
            Path file, Connection connection, int version, List<List<String>> steps)
            throws SQLException, IOException {
        Path copy = Replacement.unused(Replacement.beside(file, ".format-" + version));
        Path unfinished = Replacement.beside(file, ".copy");
        Files.deleteIfExists(unfinished);
        try (Statement statement = connection.createStatement()) {
            statement.execute("VACUUM INTO '" + unfinished.toString().replace("'", "''") + "'");
            Files.move(unfinished, copy, StandardCopyOption.ATOMIC_MOVE);
            statement.execute("BEGIN IMMEDIATE");
            runSteps(statement, version, steps);
            statement.execute("COMMIT");
        }
    }

    /** The versions before this one judge by the header: until it is written back they would open the file. */
    private static void writeBack(Path file, Connection connection) throws SQLException {
        try (Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery("PRAGMA wal_checkpoint(TRUNCATE)")) {
            if (row.getInt(1) != 0) {
                LOG.warn(
                        "{} is open in another program as well, and could not be brought up to date in all of"
                                + " its parts. End that program; do not go back to an older version of this one"
                                + " before this one was started again.",
                        file);
            }
        }
    }
}
