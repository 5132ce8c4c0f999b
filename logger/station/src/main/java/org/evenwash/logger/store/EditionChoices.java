package org.evenwash.logger.store;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code edition_choice}. */
public final class EditionChoices {
    private static final RowMapper<EditionChoice> ROW = ConstructorMapper.of(EditionChoice.class);

    private EditionChoices() {}

    public static void insert(Handle handle, EditionChoice choice) {
        handle.createUpdate(
                        """
                        INSERT INTO edition_choice (id, kind, apiary_id, key, edition, content_json,
                            chosen_at, chosen_by, ended_at)
                        VALUES (:id, :kind, :apiaryId, :key, :edition, :contentJson,
                            :chosenAt, :chosenBy, :endedAt)""")
                .bindMethods(choice)
                .execute();
    }

    /** Ends what is in use for exactly this apiary, or (null) for the whole station. */
    public static void end(Handle handle, EditionChoice.Kind kind, UUID apiaryId, Instant at) {
        handle.createUpdate(
                        """
                        UPDATE edition_choice SET ended_at = :at
                        WHERE kind = :kind AND ended_at IS NULL
                            AND COALESCE(apiary_id, '') = :apiary""")
                .bind("at", at)
                .bind("kind", kind)
                .bind("apiary", apiaryId == null ? "" : apiaryId.toString())
                .execute();
    }

    /** What is in use for an apiary: its own choice, else the station's. */
    public static Optional<EditionChoice> inUse(
            Handle handle, EditionChoice.Kind kind, UUID apiaryId) {
        return handle.createQuery(
                        """
                        SELECT * FROM edition_choice
                        WHERE kind = :kind AND ended_at IS NULL
                            AND (apiary_id IS NULL OR apiary_id = :apiary)
                        ORDER BY CASE WHEN apiary_id IS NULL THEN 1 ELSE 0 END LIMIT 1""")
                .bind("kind", kind)
                .bind("apiary", apiaryId == null ? "" : apiaryId.toString())
                .map(ROW)
                .findOne();
    }

    /** What is in use anywhere: the station's choice and those of apiaries. */
    public static List<EditionChoice> allInUse(Handle handle, EditionChoice.Kind kind) {
        return handle.createQuery(
                        "SELECT * FROM edition_choice WHERE kind = :kind AND ended_at IS NULL")
                .bind("kind", kind)
                .map(ROW)
                .list();
    }

    /** All that was ever chosen, newest first. */
    public static List<EditionChoice> history(Handle handle) {
        return handle.createQuery("SELECT * FROM edition_choice ORDER BY chosen_at DESC, id")
                .map(ROW)
                .list();
    }
}
