package org.evenwash.controller.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Arrays;
import java.util.List;
import java.util.UUID;
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

        refusedUntouched("too short to be an outbox", "Move it away");
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

        refusedUntouched("is damaged", "Move it away and keep it");
    }

    @Test
    void cutOffFile_isRefusedUntouched() throws Exception {
        OutboxFile.open(file).close();
        byte[] bytes = Files.readAllBytes(file);
        Files.write(file, Arrays.copyOf(bytes, bytes.length / 2));

        refusedUntouched("is damaged", ".recover");
    }

    @Test
    void folderThatCannotBe_isAPlainSentence() throws Exception {
        Files.writeString(folder.resolve("data"), "a file where a folder should be");

        assertThatThrownBy(() -> OutboxFile.open(folder.resolve("data/outbox.db")))
                .isInstanceOf(OutboxRefused.class)
                .hasMessageContaining("cannot be opened as the outbox")
                .hasMessageContaining("Check that the folder is there");
    }

    @Test
    void olderFile_isBroughtUpToDate_andACopyIsKept() throws Exception {
        UUID outboxId;
        try (OutboxFile outbox = OutboxFile.open(file)) {
            outboxId = outbox.outboxId();
            outbox.remember("fact", "kept");
        }
        List<List<String>> longer =
                List.of(List.of(), List.of("ALTER TABLE fact ADD COLUMN since INTEGER"));
        try (Connection newer = OutboxSchema.open(file, longer);
                Statement statement = newer.createStatement()) {
            statement.execute("UPDATE fact SET since = 1");
        }

        refusedUntouched("format 2, known here up to 1", "its records are safe");
        try (OutboxFile copy = OutboxFile.open(folder.resolve("outbox.db.format-1"))) {
            assertThat(copy.outboxId()).isEqualTo(outboxId);
            assertThat(copy.recall("fact")).contains("kept");
        }
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
