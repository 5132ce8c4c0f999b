package org.evenwash.logger.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.flywaydb.core.Flyway;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A database as an earlier version left it becomes a current one, or stays exactly as it was. */
class OlderDatabaseTest {
    private static final String APIARY =
            "INSERT INTO apiary (id, name, time_zone, hemisphere, created_at) VALUES"
                    + " ('11111111-1111-4111-8111-111111111111', 'Hollow Lane', 'Etc/UTC',"
                    + " 'NORTHERN', 0)";

    private static final String COLONY = "22222222-2222-4222-8222-222222222222";

    @TempDir Path folder;
    private String url;

    /** From the first step alone, with something in it. */
    @BeforeEach
    void olderFile() throws SQLException {
        url = "jdbc:sqlite:" + folder.resolve("older.db");
        Flyway.configure().dataSource(url, null, null).target("1").load().migrate();
        execute(APIARY);
    }

    private void execute(String sql) throws SQLException {
        try (Connection connection = DriverManager.getConnection(url);
                Statement statement = connection.createStatement()) {
            statement.execute(sql);
        }
    }

    private List<String> column(String sql) throws SQLException {
        List<String> values = new ArrayList<>();
        try (Connection connection = DriverManager.getConnection(url);
                Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery(sql)) {
            while (rows.next()) {
                values.add(rows.getString(1));
            }
        }
        return values;
    }

    @Test
    void olderFile_isBroughtUpToDate_withWhatItHeld() {
        try (Database database = Database.open(url)) {
            assertThat(database.read(Apiaries::all))
                    .extracting(Apiary::name)
                    .containsExactly("Hollow Lane");
            assertThat(database.read(Benches::all)).isEmpty();
        }
    }

    /** Before step 15 nobody was asked how a sample was handled: that is no "no". */
    @Test
    void washFromBefore_saysNothingOfItsHandling() throws SQLException {
        UUID id = UUID.randomUUID();
        Flyway.configure().dataSource(url, null, null).target("14").load().migrate();
        execute(
                "INSERT INTO colony (id, apiary_id, name, created_at) VALUES ('"
                        + COLONY
                        + "', '11111111-1111-4111-8111-111111111111', 'H1', 0)");
        execute(
                """
                INSERT INTO wash (id, colony_id, apiary_id, sampled_on, frame, queen_check,
                    bee_measure, simulated, planned_at)
                VALUES ('%s', '%s', '11111111-1111-4111-8111-111111111111', '2030-06-01',
                    'NOT_STATED', 'NOT_STATED', 'NOT_STATED', FALSE, 0)"""
                        .formatted(id, COLONY));

        try (Database database = Database.open(url)) {
            Wash wash = database.read(handle -> Washes.find(handle, id)).orElseThrow();
            assertThat(wash.handling()).isEqualTo(Handling.NOT_STATED);
        }
    }

    @Test
    void stepThatCannotBeDone_leavesTheFileAsItWas() throws SQLException {
        // The name is taken, so a later step fails after others have been done.
        execute("CREATE TABLE pass (somebody TEXT)");
        List<String> before = column("SELECT sql FROM sqlite_master ORDER BY name");

        assertThatThrownBy(() -> Database.open(url))
                .isInstanceOf(DatabaseTrouble.class)
                .hasMessageStartingWith("the database cannot be brought to this program's schema");

        assertThat(column("SELECT sql FROM sqlite_master ORDER BY name")).isEqualTo(before);
        assertThat(column("SELECT version FROM flyway_schema_history WHERE success"))
                .containsExactly("1");
        assertThat(column("SELECT name FROM apiary")).containsExactly("Hollow Lane");
    }

    @Test
    void newerFile_isRefused_untouched() throws Exception {
        execute("PRAGMA journal_mode = WAL"); // as every version left its file
        execute(
                """
                INSERT INTO flyway_schema_history (installed_rank, version, description, type,
                    script, installed_by, installed_on, execution_time, success)
                VALUES (2, '9001', 'later', 'SQL', 'V9001__later.sql', '', '2030-01-01 00:00:00.000', 1, 1)""");
        byte[] before = Files.readAllBytes(folder.resolve("older.db"));

        assertThatThrownBy(() -> Database.open(url))
                .isInstanceOf(DatabaseTrouble.class)
                .hasMessageContaining("newer version of this program (step 9001)");

        assertThat(Files.readAllBytes(folder.resolve("older.db"))).isEqualTo(before);
    }
}
