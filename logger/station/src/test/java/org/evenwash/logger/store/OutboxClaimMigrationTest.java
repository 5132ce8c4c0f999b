package org.evenwash.logger.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import java.nio.file.Path;
import java.sql.DriverManager;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.TestDatabase;
import org.flywaydb.core.Flyway;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A database from before numbers were claimed by one message. */
class OutboxClaimMigrationTest {
    @TempDir Path folder;

    private String unmigrated() {
        if (!TestDatabase.isPostgresql()) {
            return "jdbc:sqlite:" + folder.resolve("before.db");
        }
        TestDatabase.cluster().execute("CREATE DATABASE before");
        return TestDatabase.cluster().url("before");
    }

    @Test
    void theMessageThatCameFirst_keepsItsNumber_andTheOtherStaysAClash() throws Exception {
        String url = unmigrated();
        UUID outbox = UUID.randomUUID();
        UUID first = new UUID(9, 9);
        UUID later = new UUID(1, 1);
        Flyway.configure().dataSource(url, null, null).target("12?").load().migrate();
        try (var connection = DriverManager.getConnection(url);
                var statement = connection.createStatement()) {
            statement.execute(cycle(first, outbox, false));
            statement.execute(cycle(later, outbox, true));
            for (UUID message : new UUID[] {first, later}) {
                statement.execute(
                        "INSERT INTO outbox_number VALUES ('%s', 3, '%s', 'b')"
                                .formatted(outbox, message));
            }
            statement.execute(
                    "INSERT INTO outbox_number VALUES ('%s', 1, '%s', 'b')"
                            .formatted(outbox, UUID.randomUUID()));
        }

        try (Database database = Database.open(url)) {
            List<OutboxNumbers.Clash> twice =
                    database.read(handle -> OutboxNumbers.clashes(handle, null));
            assertThat(twice)
                    .extracting(OutboxNumbers.Clash::sequence, OutboxNumbers.Clash::messages)
                    .containsExactly(tuple(3L, 2L));
            List<OutboxNumbers.Gap> missing = database.read(handle -> OutboxNumbers.gaps(handle));
            assertThat(missing).containsExactly(new OutboxNumbers.Gap("b", outbox, 2, 2));
            boolean clash =
                    database.write(handle -> OutboxNumbers.note(handle, "b", outbox, 3, first));
            assertThat(clash).as("the first message offered again").isFalse();
        }
    }

    private static String cycle(UUID id, UUID outbox, boolean clash) {
        return """
               INSERT INTO cycle (id, bench_id, outbox_id, sequence, simulated, outcome, started_at,
                   ended_at, clock, duration_s, planned_agitation_s, agitation_s, within_tolerance_s,
                   conforms, departures, recipe_id, recipe_version, recipe_hash, sequence_clash,
                   sha256, record_json, received_at)
               VALUES ('%s', 'b', '%s', 3, TRUE, 'COMPLETE', 0, 1, 'SYNCHRONISED', 1, 1, 1, 1,
                   TRUE, '', 'r', 1, '', %s, '', '{}', 2)"""
                .formatted(id, outbox, clash);
    }
}
