package org.evenwash.logger.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchRuntimeException;

import java.nio.file.Path;
import java.time.Instant;
import java.util.UUID;
import org.evenwash.logger.TestDatabase;
import org.jdbi.v3.core.Handle;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What is told of a statement that a database refused. */
class RefusalTest {
    private static final String HASH = "$2a$10$never-to-be-seen";

    @TempDir Path folder;
    private Database database;

    @BeforeEach
    void open() {
        database = Database.open(TestDatabase.in(folder, "refusing"));
    }

    @AfterEach
    void close() {
        database.close();
    }

    /** The second time, too, where the row that is refused holds the hash of the first. */
    @Test
    void whatWasBound_isNowhereInWhatIsTold() {
        UUID operator = UUID.randomUUID();
        database.change(
                handle -> {
                    Operators.insert(handle, new Operator(operator, "Anna", true, Instant.EPOCH));
                    account(handle, operator);
                });

        RuntimeException twice =
                catchRuntimeException(() -> database.change(handle -> account(handle, operator)));
        RuntimeException wrong =
                catchRuntimeException(
                        () ->
                                database.change(
                                        handle ->
                                                handle.execute(
                                                        "UPDATE account SET role = 'COOK'")));

        assertThat(Database.isOwnTrouble(twice)).isFalse();
        assertThat(allOf(twice)).contains("INSERT INTO account").doesNotContain(HASH);
        assertThat(allOf(wrong)).contains("UPDATE account").doesNotContain(HASH);
    }

    private static void account(Handle handle, UUID operator) {
        Accounts.insert(
                handle,
                new Account(
                        UUID.randomUUID(),
                        operator,
                        "anna",
                        Role.KEEPER,
                        0,
                        null,
                        Instant.EPOCH,
                        null),
                HASH);
    }

    private static String allOf(Throwable trouble) {
        StringBuilder all = new StringBuilder();
        for (Throwable cause = trouble; cause != null; cause = cause.getCause()) {
            all.append(cause).append('\n');
        }
        return all.toString();
    }

    @Test
    void refusedBatch_isToldInTheDatabasesOwnSentence() {
        RuntimeException trouble =
                catchRuntimeException(
                        () ->
                                database.change(
                                        handle -> {
                                            try (RowBatch rows =
                                                    new RowBatch(
                                                            handle,
                                                            "INSERT INTO database_fact (name, value)"
                                                                    + " VALUES (?, ?)")) {
                                                rows.text("one").text("a\0b" + HASH).add();
                                                rows.text("one").text("again " + HASH).add();
                                                rows.changed();
                                            }
                                        }));

        String said = Database.refusal(trouble);
        assertThat(Database.isOwnTrouble(trouble)).isFalse();
        assertThat(said)
                .isEqualTo(trouble.getMessage())
                .contains(TestDatabase.isPostgresql() ? "0x00" : "UNIQUE constraint failed")
                .doesNotContain("INSERT", HASH, "\0");
        assertThat(allOf(trouble)).doesNotContain(HASH);
    }

    @Test
    void longOnes_areCut() {
        assertThat(Refusal.in(new IllegalStateException("a\nb" + "x".repeat(5_000))))
                .startsWith("a bx")
                .hasSize(300);
    }
}
