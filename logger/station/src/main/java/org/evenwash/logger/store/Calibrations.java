package org.evenwash.logger.store;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code calibration}. */
public final class Calibrations {
    private static final RowMapper<Calibration> ROW = ConstructorMapper.of(Calibration.class);

    private Calibrations() {}

    public static void insert(Handle handle, Calibration calibration) {
        handle.createUpdate(
                        """
                        INSERT INTO calibration (id, kind, name, bench_id, recipe_id, recipe_version,
                            inputs_json, result_json, method_version, simulated, made_at, made_by,
                            used_from, used_until)
                        VALUES (:id, :kind, :name, :benchId, :recipeId, :recipeVersion,
                            :inputsJson, :resultJson, :methodVersion, :simulated, :madeAt, :madeBy,
                            :usedFrom, :usedUntil)""")
                .bindMethods(calibration)
                .execute();
    }

    public static Optional<Calibration> find(Handle handle, UUID id) {
        return handle.createQuery("SELECT * FROM calibration WHERE id = :id")
                .bind("id", id)
                .map(ROW)
                .findOne();
    }

    /**
     * Newest first.
     *
     * @param simulatedToo whether those made from simulated washes count
     */
    public static List<Calibration> all(Handle handle, boolean simulatedToo, int most) {
        return handle.createQuery(
                        """
                        SELECT * FROM calibration WHERE (:simulatedToo OR NOT simulated)
                        ORDER BY made_at DESC, id LIMIT :most""")
                .bind("simulatedToo", simulatedToo)
                .bind("most", most)
                .map(ROW)
                .list();
    }

    /** Those of a kind that are used now, the latest taken into use first. */
    public static List<Calibration> inUse(
            Handle handle, CalibrationKind kind, boolean simulatedToo) {
        return handle.createQuery(
                        """
                        SELECT * FROM calibration
                        WHERE kind = :kind AND used_from IS NOT NULL AND used_until IS NULL
                            AND (:simulatedToo OR NOT simulated)
                        ORDER BY used_from DESC, id""")
                .bind("kind", kind)
                .bind("simulatedToo", simulatedToo)
                .map(ROW)
                .list();
    }

    /** False when it is used already. */
    public static boolean use(Handle handle, UUID id, Instant from) {
        return handle.createUpdate(
                                """
                                UPDATE calibration SET used_from = :from, used_until = NULL
                                WHERE id = :id AND (used_from IS NULL OR used_until IS NOT NULL)""")
                        .bind("id", id)
                        .bind("from", from)
                        .execute()
                == 1;
    }

    /** False when it is not used. */
    public static boolean end(Handle handle, UUID id, Instant until) {
        return handle.createUpdate(
                                """
                                UPDATE calibration SET used_until = :until
                                WHERE id = :id AND used_from IS NOT NULL AND used_until IS NULL""")
                        .bind("id", id)
                        .bind("until", until)
                        .execute()
                == 1;
    }

    /** Notes by which calibration the bees of a wash were estimated. */
    public static void putBeesOf(Handle handle, UUID washId, UUID calibrationId) {
        handle.createUpdate(
                        """
                        INSERT INTO wash_bee_calibration (wash_id, calibration_id)
                        VALUES (:wash, :calibration)
                        ON CONFLICT (wash_id) DO UPDATE SET calibration_id = excluded.calibration_id""")
                .bind("wash", washId)
                .bind("calibration", calibrationId)
                .execute();
    }

    /** By which the bees of a wash were last estimated; they may have been counted since. */
    public static Optional<Calibration> beesOf(Handle handle, UUID washId) {
        return handle.createQuery(
                        """
                        SELECT calibration.* FROM wash_bee_calibration used
                        JOIN calibration ON calibration.id = used.calibration_id
                        WHERE used.wash_id = :wash""")
                .bind("wash", washId)
                .map(ROW)
                .findOne();
    }
}
