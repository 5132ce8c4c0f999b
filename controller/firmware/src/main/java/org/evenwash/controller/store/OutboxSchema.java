package org.evenwash.controller.store;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Arrays;
import java.util.List;
import java.util.UUID;
import org.evenwash.record.Messages;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteOpenMode;

/**
 * Tables of the outbox file and how an older file becomes a current one. The file is judged by its
 * header before anything is written to it: SQLite keeps our mark and the schema's version there.
 */
final class OutboxSchema {
    /** SQLite's application_id: "EvWo" in ASCII. */
    private static final int MARK = 0x4576576F;

    private static final byte[] SQLITE = "SQLite format 3\0".getBytes(StandardCharsets.US_ASCII);
    private static final int HEADER_BYTES = 100;
    private static final int USER_VERSION_AT = 60;
    private static final int APPLICATION_ID_AT = 68;

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

    static Connection open(Path file) throws OutboxRefused {
        return open(file, STEPS);
    }

    /** With steps of one's own, so that a test can look at a newer program and an older file. */
    static Connection open(Path file, List<List<String>> steps) throws OutboxRefused {
        try {
            if (Files.notExists(file)) {
                make(file, steps);
            }
            int version = version(file, steps.size());
            checkWhole(file);
            Connection connection = connect(file);
            if (version < steps.size()) {
                migrate(file, connection, version, steps);
            }
            return connection;
        } catch (SQLException | IOException e) {
            throw new OutboxRefused(
                    file,
                    "cannot be opened as the outbox (" + e.getMessage() + ")",
                    "Check that the folder is there, has room, and may be written by the controller's user",
                    e);
        }
    }

    /** Made aside and renamed: a crash leaves the whole file or none. */
    private static void make(Path file, List<List<String>> steps) throws SQLException, IOException {
        Files.createDirectories(file.toAbsolutePath().getParent());
        Path aside = file.resolveSibling(file.getFileName() + ".new");
        Files.deleteIfExists(aside);
        SQLiteConfig config = new SQLiteConfig();
        config.setSynchronous(SQLiteConfig.SynchronousMode.FULL);
        try (Connection connection = config.createConnection("jdbc:sqlite:" + aside);
                Statement statement = connection.createStatement()) {
            statement.execute("PRAGMA application_id = " + MARK);
            runSteps(statement, 0, steps);
            statement.execute("INSERT INTO outbox VALUES (1, '" + UUID.randomUUID() + "', 0, 0)");
        }
        Files.move(aside, file, StandardCopyOption.ATOMIC_MOVE);
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

    /** The schema's version, from the header's bytes: SQLite has not touched the file yet. */
    private static int version(Path file, int known) throws IOException, OutboxRefused {
        ByteBuffer header = ByteBuffer.allocate(HEADER_BYTES);
        try (RandomAccessFile bytes = new RandomAccessFile(file.toFile(), "r")) {
            if (bytes.length() < HEADER_BYTES) {
                throw new OutboxRefused(
                        file,
                        "is too short to be an outbox",
                        "Move it away, keep it, and start again with a new one");
            }
            bytes.readFully(header.array());
        }
        boolean isSqlite =
                Arrays.equals(header.array(), 0, SQLITE.length, SQLITE, 0, SQLITE.length);
        if (!isSqlite || header.getInt(APPLICATION_ID_AT) != MARK) {
            throw new OutboxRefused(
                    file,
                    "was not made by this program",
                    "Name another data folder, or move the file away");
        }
        int version = header.getInt(USER_VERSION_AT);
        if (version > known) {
            throw new OutboxRefused(
                    file,
                    "was made by a newer version of this program (format %d, known here up to %d)"
                            .formatted(version, known),
                    "Install the newer version again; its records are safe in the file");
        }
        return version;
    }

    /** Reads the whole file without being able to change it. */
    private static void checkWhole(Path file) throws OutboxRefused {
        SQLiteConfig config = new SQLiteConfig();
        config.setReadOnly(true);
        config.setOpenMode(SQLiteOpenMode.READONLY);
        config.resetOpenMode(SQLiteOpenMode.CREATE);
        String found;
        try (Connection connection = config.createConnection("jdbc:sqlite:" + file);
                Statement statement = connection.createStatement()) {
            found = check(statement);
        } catch (SQLException e) {
            throw damaged(file, e.getMessage(), e);
        }
        if (!found.equals("ok")) {
            throw damaged(file, found, null);
        }
    }

    /** SQLite checks how its pages hang together, the hashes what stands in them. */
    private static String check(Statement statement) throws SQLException {
        try (ResultSet rows = statement.executeQuery("PRAGMA quick_check(1)")) {
            String found = rows.next() ? rows.getString(1) : "no answer";
            if (!found.equals("ok")) {
                return found;
            }
        }
        try (ResultSet rows =
                statement.executeQuery(
                        "SELECT sequence, payload, sha256 FROM message WHERE released_at_ms IS NULL")) {
            while (rows.next()) {
                byte[] payload = rows.getBytes(2);
                if (payload == null || !Messages.sha256(payload).equals(rows.getString(3))) {
                    return "message %d is not as it was written".formatted(rows.getLong(1));
                }
            }
        }
        return "ok";
    }

    private static OutboxRefused damaged(Path file, String found, Throwable cause) {
        return new OutboxRefused(
                file,
                "is damaged (" + found.replace('\n', ' ') + ")",
                "Move it away and keep it: `sqlite3 FILE .recover` may save its records;"
                        + " then start again with a new one",
                cause);
    }

    private static Connection connect(Path file) throws SQLException {
        SQLiteConfig config = new SQLiteConfig();
        config.setJournalMode(SQLiteConfig.JournalMode.WAL);
        config.setSynchronous(SQLiteConfig.SynchronousMode.FULL);
        config.setBusyTimeout(2_000);
        return config.createConnection("jdbc:sqlite:" + file);
    }

    /** Keeps a copy of the older file beside it, for whoever must go back. */
    private static void migrate(
            Path file, Connection connection, int version, List<List<String>> steps)
            throws SQLException, IOException {
        Path copy = file.resolveSibling(file.getFileName() + ".format-" + version);
        Files.deleteIfExists(copy);
        try (Statement statement = connection.createStatement()) {
            statement.execute("VACUUM INTO '" + copy.toString().replace("'", "''") + "'");
            statement.execute("BEGIN IMMEDIATE");
            runSteps(statement, version, steps);
            statement.execute("COMMIT");
            // The header, by which the next start judges the file, must say so too.
            statement.execute("PRAGMA wal_checkpoint(TRUNCATE)");
        }
    }
}
