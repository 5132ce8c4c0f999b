package org.evenwash.logger.store;

import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code spirit_batch} and {@code spirit_use}. */
public final class SpiritBatches {
    private static final RowMapper<SpiritBatch> ROW = ConstructorMapper.of(SpiritBatch.class);
    static final String INSERT_USE =
            """
            INSERT INTO spirit_use (id, spirit_batch_id, kind, pass_id, volume_ml,
                strength_pctvol, remarks, happened_at, recorded_by)
            VALUES (:id, :spiritBatchId, :kind, :passId, :volume_mL,
                :strength_pctVol, :remarks, :happenedAt, :recordedBy)
            ON CONFLICT (pass_id, kind) DO NOTHING""";

    private static final RowMapper<SpiritUse> USE = ConstructorMapper.of(SpiritUse.class);

    private SpiritBatches() {}

    public static void insert(Handle handle, SpiritBatch batch) {
        handle.createUpdate(
                        """
                        INSERT INTO spirit_batch (id, name, kind, strength_pctvol, flash_point_c,
                            volume_ml, mixed_on, discarded_on, mixing_json, remarks, created_at, version)
                        VALUES (:id, :name, :kind, :strength_pctVol, :flashPoint_C,
                            :volume_mL, :mixedOn, :discardedOn, :mixingJson, :remarks, :createdAt,
                            :version)""")
                .bindMethods(batch)
                .execute();
    }

    public static Optional<SpiritBatch> find(Handle handle, UUID id) {
        return handle.createQuery("SELECT * FROM spirit_batch WHERE id = :id")
                .bind("id", id)
                .map(ROW)
                .findOne();
    }

    public static Optional<SpiritBatch> named(Handle handle, String name) {
        return handle.createQuery("SELECT * FROM spirit_batch WHERE name = :name")
                .bind("name", name)
                .map(ROW)
                .findOne();
    }

    /** Newest first. */
    public static List<SpiritBatch> all(Handle handle) {
        return handle.createQuery("SELECT * FROM spirit_batch ORDER BY created_at DESC, name")
                .map(ROW)
                .list();
    }

    public static void insertUse(Handle handle, SpiritUse use) {
        handle.createUpdate(INSERT_USE).bindMethods(use).execute();
    }

    public static void deleteUseOf(Handle handle, UUID passId) {
        handle.createUpdate("DELETE FROM spirit_use WHERE pass_id = :pass AND kind = 'WASH'")
                .bind("pass", passId)
                .execute();
    }

    public static List<SpiritUse> uses(Handle handle, UUID batchId) {
        return handle.createQuery(
                        """
                        SELECT * FROM spirit_use WHERE spirit_batch_id = :batch
                        ORDER BY happened_at, id""")
                .bind("batch", batchId)
                .map(USE)
                .list();
    }

    /** How many washes each batch was used for; batches without one are left out. */
    public static Map<UUID, Integer> washes(Handle handle) {
        return handle.createQuery(
                        """
                        SELECT spirit_batch_id, COUNT(*) AS washes FROM spirit_use
                        WHERE kind = 'WASH' GROUP BY spirit_batch_id""")
                .reduceRows(
                        new HashMap<>(),
                        (all, row) -> {
                            all.put(
                                    row.getColumn("spirit_batch_id", UUID.class),
                                    row.getColumn("washes", Integer.class));
                            return all;
                        });
    }

    /** A run without bees and what it found. */
    public record Blank(UUID washId, LocalDate sampledOn, int mites) {}

    /** Counted runs of a batch without bees, oldest first. */
    public static List<Blank> blanks(Handle handle, UUID batchId) {
        return handle.createQuery(
                        """
                        SELECT wash.id AS wash_id, wash.sampled_on, mite_count.mites
                        FROM pass JOIN wash ON wash.id = pass.wash_id
                        JOIN mite_count ON mite_count.pass_id = pass.id AND NOT mite_count.recount
                        WHERE pass.spirit_batch_id = :batch AND pass.kind = 'BLANK'
                            AND wash.removed_at IS NULL
                        ORDER BY mite_count.counted_at""")
                .bind("batch", batchId)
                .map(ConstructorMapper.of(Blank.class))
                .list();
    }

    public static Optional<SpiritUse> findUse(Handle handle, UUID id) {
        return handle.createQuery("SELECT * FROM spirit_use WHERE id = :id")
                .bind("id", id)
                .map(USE)
                .findOne();
    }

    public static void deleteUse(Handle handle, UUID id) {
        handle.createUpdate("DELETE FROM spirit_use WHERE id = :id").bind("id", id).execute();
    }

    /** False when somebody edited the row since {@code version} was read. */
    public static boolean setDiscarded(Handle handle, UUID id, long version, LocalDate onDay) {
        return handle.createUpdate(
                                """
                                UPDATE spirit_batch SET discarded_on = :onDay, version = version + 1
                                WHERE id = :id AND version = :version""")
                        .bind("id", id)
                        .bind("version", version)
                        .bind("onDay", onDay)
                        .execute()
                == 1;
    }

    /** Which use of its batch a pass was, from 1; empty when the pass used none. */
    public static Optional<Integer> useNumber(Handle handle, UUID passId) {
        return handle.createQuery(
                        """
                        SELECT COUNT(*) FROM spirit_use mine JOIN spirit_use other
                            ON other.spirit_batch_id = mine.spirit_batch_id AND other.kind = 'WASH'
                                AND (other.happened_at < mine.happened_at
                                    OR (other.happened_at = mine.happened_at AND other.id <= mine.id))
                        WHERE mine.pass_id = :pass AND mine.kind = 'WASH'""")
                .bind("pass", passId)
                .mapTo(Integer.class)
                .findOne()
                .filter(number -> number > 0);
    }
}
