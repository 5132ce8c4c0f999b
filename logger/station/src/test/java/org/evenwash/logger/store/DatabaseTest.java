package org.evenwash.logger.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.RandomAccessFile;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import org.evenwash.logger.TestDatabase;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.sqlite.SQLiteErrorCode;
import org.sqlite.SQLiteException;

class DatabaseTest {
    @TempDir Path folder;

    private String url() {
        return "jdbc:sqlite:" + folder.resolve("one.db");
    }

    @Test
    void openedFile_isWalWithFullSynchronisationAndForeignKeys() {
        try (Database database = Database.open(url())) {
            assertThat(pragma(database, "journal_mode")).isEqualTo("wal");
            assertThat(pragma(database, "synchronous")).isEqualTo("2");
            assertThat(pragma(database, "foreign_keys")).isEqualTo("1");
        }
    }

    private static String pragma(Database database, String name) {
        return database.read(
                handle -> handle.createQuery("PRAGMA " + name).mapTo(String.class).one());
    }

    /** As when two loggers of a group are started for the first time. */
    @Test
    void factThatSeveralSettleAtOnce_isTheSameForAll() {
        String address = TestDatabase.in(folder, "shared");
        try (Database one = Database.open(address);
                Database other = Database.open(address)) {
            var first = CompletableFuture.supplyAsync(() -> one.factOr("name", "first"));
            var second = CompletableFuture.supplyAsync(() -> other.factOr("name", "second"));
            assertThat(first.join()).isEqualTo(second.join());
            assertThat(one.factOr("name", "third")).isEqualTo(first.join());
        }
    }

    @Test
    void damagedFile_isRefusedWithTheWayBack() throws Exception {
        try (Database database = Database.open(url())) {
            for (int i = 0; i < 200; i++) {
                String name = "Operator " + i;
                database.change(
                        handle ->
                                Operators.insert(
                                        handle,
                                        new Operator(
                                                UUID.randomUUID(), name, true, Instant.EPOCH)));
            }
        }
        // One page of people, of which nothing that starting needs is read.
        try (Connection plain = DriverManager.getConnection(url());
                Statement statement = plain.createStatement()) {
            ResultSet leaf =
                    statement.executeQuery(
                            "SELECT pageno, pgsize FROM dbstat WHERE name = 'operator'"
                                    + " AND pagetype = 'leaf' ORDER BY pageno LIMIT 1");
            long start = (leaf.getLong("pageno") - 1) * leaf.getLong("pgsize");
            try (RandomAccessFile file =
                    new RandomAccessFile(folder.resolve("one.db").toFile(), "rw")) {
                file.seek(start);
                file.write(new byte[512]);
            }
        }
        try (Connection plain = DriverManager.getConnection(url());
                Statement statement = plain.createStatement()) {
            assertThat(
                            statement
                                    .executeQuery("SELECT COUNT(*) FROM flyway_schema_history")
                                    .getInt(1))
                    .isPositive();
        }

        assertThatThrownBy(() -> Database.open(url()))
                .isInstanceOf(DatabaseTrouble.class)
                .hasMessageContaining("damaged")
                .hasMessageContaining("restore");
    }

    /** Where the index of the latest changes cannot be made, as in a folder that may not be written. */
    @Test
    void fileThatCannotBeWritten_isNotCalledDamaged() throws Exception {
        Database.open(url()).close();
        Files.createDirectory(folder.resolve("one.db-shm"));

        assertThatThrownBy(() -> Database.open(url()))
                .isInstanceOf(DatabaseTrouble.class)
                .hasMessageStartingWith(
                        "the database "
                                + folder.resolve("one.db")
                                + " cannot be opened: its folder is missing or may not be"
                                + " written; let this user write there, then start again (")
                .hasMessageNotContainingAny("damaged", "restore", "\n");
    }

    @Test
    void whatSqliteSays_isToldApartByWhatCanBeDone() {
        Map<FileFault, List<SQLiteErrorCode>> all =
                Map.of(
                        FileFault.DAMAGED,
                        List.of(
                                SQLiteErrorCode.SQLITE_CORRUPT,
                                SQLiteErrorCode.SQLITE_CORRUPT_INDEX),
                        FileFault.NO_DATABASE,
                        List.of(SQLiteErrorCode.SQLITE_NOTADB),
                        FileFault.NO_ROOM,
                        List.of(SQLiteErrorCode.SQLITE_FULL, SQLiteErrorCode.SQLITE_IOERR_SHMSIZE),
                        FileFault.NOT_WRITABLE,
                        List.of(
                                SQLiteErrorCode.SQLITE_READONLY_DBMOVED,
                                SQLiteErrorCode.SQLITE_CANTOPEN),
                        FileFault.DISK_FAILS,
                        List.of(SQLiteErrorCode.SQLITE_IOERR_READ));
        all.forEach(
                (fault, codes) ->
                        codes.forEach(
                                code ->
                                        assertThat(FileFault.in(wrapped(code)))
                                                .as(code.name())
                                                .contains(fault)));
        assertThat(FileFault.in(wrapped(SQLiteErrorCode.SQLITE_BUSY))).isEmpty();
        assertThat(FileFault.in(new IllegalStateException("none of it"))).isEmpty();
    }

    private static RuntimeException wrapped(SQLiteErrorCode code) {
        return new IllegalStateException("wrapped", new SQLiteException("as SQLite says", code));
    }

    @Test
    void otherAddress_isRefusedWithWhatIsExpected() {
        assertThatThrownBy(() -> Database.open("jdbc:other:x"))
                .isInstanceOf(DatabaseTrouble.class)
                .hasMessageContaining("expected jdbc:sqlite:FILE or jdbc:postgresql://HOST/NAME");
    }

    @Test
    void demonstration_isForEmptyDatabasesOnly() {
        try (Database database = Database.open(url())) {
            assertThat(database.demonstration()).isFalse();
            database.becomeDemonstration();
            database.becomeDemonstration();
            assertThat(database.demonstration()).isTrue();
        }
        try (Database database = Database.open(url())) {
            assertThat(database.demonstration()).isTrue();
        }
    }
}
