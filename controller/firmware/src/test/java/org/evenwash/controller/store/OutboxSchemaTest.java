package org.evenwash.controller.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Arrays;
import java.util.List;
import java.util.UUID;
import java.util.stream.Stream;
import org.evenwash.controller.Told;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class OutboxSchemaTest {
    @TempDir Path folder;
    private Path file;

    @BeforeEach
    void name() {
        file = folder.resolve("outbox.db");
    }

    /** What a commit has returned from survives a power cut only so; SQLite keeps the second for a connection alone. */
    @Test
    void connectionOfTheOutbox_writesAheadAndSyncsEveryCommit_andKeepsFewPages() throws Exception {
        for (String which : List.of("made", "opened again")) {
            try (Connection connection = OutboxSchema.open(file);
                    Statement statement = connection.createStatement()) {
                assertThat(pragma(statement, "journal_mode")).as(which).isEqualTo("wal");
                assertThat(pragma(statement, "synchronous")).as(which + ", FULL").isEqualTo("2");
                assertThat(pragma(statement, "cache_size")).as(which + ", KiB").isEqualTo("-256");
            }
        }
    }

    private static String pragma(Statement statement, String name) throws SQLException {
        try (ResultSet row = statement.executeQuery("PRAGMA " + name)) {
            return row.getString(1);
        }
    }

    @Test
    void newerFile_isRefusedUntouched() throws Exception {
        OutboxFile.open(file).close();
        sql("PRAGMA user_version = 99");

        refusedUntouched("made by a newer version", "Install the newer version again");
    }

    @Test
    void foreignDatabase_isRefusedUntouched() throws Exception {
        sql("CREATE TABLE someone_elses (a)");

        refusedUntouched("was not made by this program", "another data folder");
    }

    @Test
    void textFile_isRefusedUntouched() throws Exception {
        Files.writeString(file, "not a database, ".repeat(50));

        refusedUntouched("was not made by this program", "move the file away");
    }

    @Test
    void emptyFile_isRefusedUntouched() throws Exception {
        Files.createFile(file);

        refusedUntouched(
                "too short to be an outbox", "evenwash-controller salvage --data " + folder);
    }

    @Test
    void damagedFile_isRefusedUntouched() throws Exception {
        try (OutboxFile outbox = OutboxFile.open(file)) {
            for (int i = 0; i < 50; i++) {
                UUID id = UUID.randomUUID();
                outbox.event(id, n -> SampleMessages.event(id, outbox.outboxId(), n));
            }
        }
        byte[] bytes = Files.readAllBytes(file);
        Arrays.fill(bytes, 4_096, bytes.length, (byte) 0x5A);
        Files.write(file, bytes);

        refusedUntouched("is damaged", "evenwash-controller salvage --data " + folder);
    }

    @Test
    void cutOffFile_isRefusedUntouched() throws Exception {
        OutboxFile.open(file).close();
        byte[] bytes = Files.readAllBytes(file);
        Files.write(file, Arrays.copyOf(bytes, bytes.length / 2));

        refusedUntouched("is damaged", "end in -wal and -shm");
    }

    @Test
    void folderThatCannotBe_isAPlainSentence() throws Exception {
        Files.writeString(folder.resolve("data"), "a file where a folder should be");

        assertThatThrownBy(() -> OutboxFile.open(folder.resolve("data/outbox.db")))
                .isInstanceOf(OutboxRefused.class)
                .hasMessageContaining("cannot be opened as the outbox")
                .hasMessageContaining("Check that the folder is there");
    }

    /** Here a folder keeps SQLite from its log, as a full card does. */
    @Test
    void storageThatFails_isNotTakenForDamage_andTheFileOpensOnceItIsWellAgain() throws Exception {
        OutboxFile.open(file).close();
        Path inTheWay = Files.createDirectory(folder.resolve("outbox.db-wal"));
        Files.createFile(inTheWay.resolve("x"));

        assertThatThrownBy(() -> OutboxFile.open(file))
                .isInstanceOf(OutboxRefused.class)
                .hasMessageContaining("cannot be opened as the outbox")
                .hasMessageContaining("has room")
                .hasMessageNotContaining("salvage");
        Files.delete(inTheWay.resolve("x"));
        Files.delete(inTheWay);
        OutboxFile.open(file).close();
    }

    @Test
    void changedByteInTheOutboxsId_orInAMessagesKind_isDamage() throws Exception {
        try (OutboxFile outbox = OutboxFile.open(file)) {
            UUID id = UUID.randomUUID();
            outbox.event(id, n -> SampleMessages.event(id, outbox.outboxId(), n));
        }
        sql("UPDATE message SET kind = 'EVENU'");
        refusedUntouched("message 1 is not as it was written", "salvage");
        sql("UPDATE message SET kind = 'EVENT'");
        sql("UPDATE outbox SET outbox_id = replace(outbox_id, '-', '+')");
        refusedUntouched("own id is not as it was written", "salvage");
    }

    @Test
    void renamedTable_isDamage() throws Exception {
        OutboxFile.open(file).close();
        sql("ALTER TABLE message RENAME TO massage");

        refusedUntouched("no such table", "salvage");
    }

    /** Whoever moved the file by hand left its log: SQLite would play it into the new one. */
    @Test
    void logOfAnOutboxThatIsGone_isMovedAside_andTheNewOneIsWhole() throws Exception {
        Path killed = Files.createDirectory(folder.resolve("killed"));
        try (OutboxFile outbox = OutboxFile.open(file)) {
            for (int i = 0; i < 10; i++) {
                UUID id = UUID.randomUUID();
                outbox.event(id, n -> SampleMessages.event(id, outbox.outboxId(), n));
            }
            Files.copy(folder.resolve("outbox.db-wal"), killed.resolve("outbox.db-wal"));
            Files.copy(folder.resolve("outbox.db-shm"), killed.resolve("outbox.db-shm"));
        }
        file = killed.resolve("outbox.db");
        byte[] log = Files.readAllBytes(killed.resolve("outbox.db-wal"));

        try (Told told = new Told();
                OutboxFile made = OutboxFile.open(file)) {
            assertThat(made.depth()).isZero();
            assertThat(told.text()).contains("[WARN]", "outbox.db.put-aside-");
        }
        OutboxFile.open(file).close();
        try (Stream<Path> all = Files.walk(killed)) {
            assertThat(all.filter(one -> one.endsWith("outbox.db-wal")))
                    .singleElement()
                    .satisfies(moved -> assertThat(moved).hasBinaryContent(log));
        }
    }

    @Test
    void killedWhileALogWasMovedAside_theRestComesIntoTheSameFolder() throws Exception {
        Path begun = Files.createDirectory(folder.resolve("outbox.db.putting-aside"));
        Files.writeString(begun.resolve("outbox.db-wal"), "a log");
        Files.writeString(folder.resolve("outbox.db-shm"), "its index");

        OutboxFile.open(file).close();
        assertThat(folder.toFile().list()).hasSize(2).contains("outbox.db");
        try (Stream<Path> all = Files.walk(folder, 1)) {
            Path aside = all.filter(one -> one.toString().contains("put-aside")).toList().get(0);
            assertThat(aside.resolve("outbox.db-wal")).hasContent("a log");
            assertThat(aside.resolve("outbox.db-shm")).hasContent("its index");
        }
    }

    private static final List<List<String>> LONGER =
            List.of(List.of(), List.of("ALTER TABLE fact ADD COLUMN since INTEGER"));

    @Test
    void olderFile_isBroughtUpToDate_andACopyIsKept() throws Exception {
        UUID outboxId;
        try (OutboxFile outbox = OutboxFile.open(file)) {
            outboxId = outbox.outboxId();
            outbox.remember("fact", "kept");
        }
        try (Connection newer = OutboxSchema.open(file, LONGER);
                Statement statement = newer.createStatement()) {
            statement.execute("UPDATE fact SET since = 1");
        }

        refusedUntouched("format 2, known here up to 1", "its records are safe");
        try (OutboxFile copy = OutboxFile.open(folder.resolve("outbox.db.format-1"))) {
            assertThat(copy.outboxId()).isEqualTo(outboxId);
            assertThat(copy.recall("fact")).contains("kept");
        }
    }

    @Test
    void copyOfAnEarlierUpdate_staysAsItIs() throws Exception {
        OutboxFile.open(file).close();
        Path earlier = Files.writeString(folder.resolve("outbox.db.format-1"), "an earlier copy");
        OutboxSchema.open(file, LONGER).close();

        assertThat(earlier).hasContent("an earlier copy");
        OutboxFile.open(folder.resolve("outbox.db.format-1.2")).close();
    }

    /** Somebody reads the file, so the log cannot be written back; then the power goes. */
    @Test
    void killedBeforeTheNewFormatReachedTheHeader_theLogTellsIt_toBothVersions() throws Exception {
        OutboxFile.open(file).close();
        Path killed = Files.createDirectory(folder.resolve("killed"));
        try (Connection reader = DriverManager.getConnection("jdbc:sqlite:" + file);
                Statement statement = reader.createStatement();
                Told told = new Told()) {
            statement.execute("BEGIN");
            statement.executeQuery("SELECT * FROM fact").close();
            OutboxSchema.open(file, LONGER).close();
            assertThat(told.text()).contains("[WARN]", "is open in another program as well");
            for (String name : List.of("outbox.db", "outbox.db-wal")) {
                Files.copy(folder.resolve(name), killed.resolve(name));
            }
        }
        file = killed.resolve("outbox.db");
        assertThat(Files.readAllBytes(file)[63]).as("version in the header").isEqualTo((byte) 1);

        refusedUntouched("format 2, known here up to 1", "its records are safe");
        OutboxSchema.open(file, LONGER).close();
        assertThat(Files.readAllBytes(file)[63]).as("version in the header").isEqualTo((byte) 2);
        assertThat(killed.resolve("outbox.db.format-1")).doesNotExist();
    }

    private void refusedUntouched(String why, String remedy) throws Exception {
        byte[] before = Files.readAllBytes(file);
        assertThatThrownBy(() -> OutboxFile.open(file))
                .isInstanceOf(OutboxRefused.class)
                .hasMessageContaining(why)
                .hasMessageContaining(remedy);
        assertThat(new String(Files.readAllBytes(file), StandardCharsets.ISO_8859_1))
                .isEqualTo(new String(before, StandardCharsets.ISO_8859_1));
    }

    private void sql(String sql) throws SQLException {
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file);
                Statement statement = connection.createStatement()) {
            statement.execute(sql);
        }
    }
}
