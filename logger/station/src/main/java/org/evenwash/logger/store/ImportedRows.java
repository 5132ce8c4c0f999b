package org.evenwash.logger.store;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;
import org.jdbi.v3.core.statement.UnableToExecuteStatementException;

/** Rows of {@code import_wash} and {@code import_made}, and how they are taken out again. */
public final class ImportedRows {

    /** What an import made beside washes. */
    public enum Made {
        APIARY,
        COLONY,
        OPERATOR,
        SPIRIT
    }

    /** A wash of a colony, as far as a line of a file can be compared with it. */
    public record Alike(LocalDate sampledOn, Double bees, Integer mites) {}

    /** An imported wash that something was built on. */
    public record BuiltOn(UUID washId, long line, String what) {}

    private ImportedRows() {}

    /** Keys of all imported lines, in ascending order. */
    public static long[] keys(Handle handle) {
        try (var keys =
                handle
                        .createQuery("SELECT row_key FROM import_wash ORDER BY row_key")
                        .mapTo(Long.class)
                        .stream()) {
            return keys.mapToLong(Long::longValue).toArray();
        }
    }

    /** Ids of all washes, each folded into 64 bits, in ascending order. */
    public static long[] foldedIds(Handle handle) {
        try (var ids = handle.createQuery("SELECT id FROM wash").mapTo(String.class).stream()) {
            return ids.mapToLong(id -> folded(UUID.fromString(id))).sorted().toArray();
        }
    }

    /** Random ids keep apart in half their bits. */
    public static long folded(UUID id) {
        return id.getMostSignificantBits() ^ id.getLeastSignificantBits();
    }

    /** Washes of a colony that count, first wash, first count. */
    public static List<Alike> washesOf(Handle handle, UUID colonyId) {
        return handle.createQuery(
                        """
                        SELECT wash.sampled_on, wash.bees, mite_count.mites FROM wash
                        LEFT JOIN pass ON pass.wash_id = wash.id AND pass.kind = 'FIRST'
                        LEFT JOIN mite_count ON mite_count.pass_id = pass.id
                            AND NOT mite_count.recount
                        WHERE wash.colony_id = :colony AND wash.removed_at IS NULL""")
                .bind("colony", colonyId)
                .map(ConstructorMapper.of(Alike.class))
                .list();
    }

    public static void made(Handle handle, UUID importId, Made kind, UUID subjectId) {
        handle.createUpdate(
                        """
                        INSERT INTO import_made (import_id, kind, subject_id)
                        VALUES (:import, :kind, :subject)""")
                .bind("import", importId)
                .bind("kind", kind)
                .bind("subject", subjectId)
                .execute();
    }

    public static long count(Handle handle, UUID importId) {
        return handle.createQuery("SELECT COUNT(*) FROM import_wash WHERE import_id = :import")
                .bind("import", importId)
                .mapTo(Long.class)
                .one();
    }

    /** Imported washes that have since been worked on, at most {@code most}. */
    public static List<BuiltOn> builtOn(Handle handle, UUID importId, int most) {
        return handle.createQuery(
                        """
                        SELECT wash_id, line, what FROM (
                            SELECT imported.wash_id, imported.line, CASE
                                WHEN wash.version > 1 THEN 'was corrected or taken off the lists'
                                WHEN EXISTS (SELECT 1 FROM pass JOIN pass_cycle
                                        ON pass_cycle.pass_id = pass.id
                                        WHERE pass.wash_id = wash.id) THEN 'has a cycle of a bench'
                                WHEN EXISTS (SELECT 1 FROM ticket WHERE ticket.wash_id = wash.id)
                                    THEN 'has a ticket'
                                WHEN EXISTS (SELECT 1 FROM pass JOIN mite_count
                                        ON mite_count.pass_id = pass.id
                                        WHERE pass.wash_id = wash.id
                                            AND (mite_count.version > 1
                                                OR mite_count.counted_at >= :importedAt))
                                    THEN 'was counted again or its count corrected'
                                WHEN EXISTS (SELECT 1 FROM pass
                                        WHERE pass.wash_id = wash.id AND pass.version > 1)
                                    THEN 'has a pass that was changed'
                                WHEN EXISTS (SELECT 1 FROM photo WHERE photo.wash_id = wash.id)
                                    THEN 'has a photo'
                                WHEN EXISTS (SELECT 1 FROM report_basis
                                        WHERE report_basis.basis = wash.id)
                                    THEN 'stands in a report'
                                WHEN EXISTS (SELECT 1 FROM study_exclusion
                                        WHERE study_exclusion.wash_id = wash.id)
                                    THEN 'was left out of comparisons'
                                WHEN EXISTS (SELECT 1 FROM wash_bee_calibration
                                        WHERE wash_bee_calibration.wash_id = wash.id)
                                    THEN 'has its bees estimated by a calibration'
                                WHEN EXISTS (SELECT 1 FROM day_plan_wash
                                        WHERE day_plan_wash.wash_id = wash.id)
                                    THEN 'stands on a work list'
                                END AS what
                            FROM import_wash imported JOIN wash ON wash.id = imported.wash_id
                            WHERE imported.import_id = :import) looked
                        WHERE what IS NOT NULL ORDER BY line LIMIT :most""")
                .bind("import", importId)
                .bind("importedAt", ImportFiles.find(handle, importId).orElseThrow().importedAt())
                .bind("most", most)
                .map(ConstructorMapper.of(BuiltOn.class))
                .list();
    }

    /** Takes an import's washes out, and what was made for them where nothing else uses it. */
    public static void delete(Handle handle, UUID importId) {
        String ofImport = "(SELECT wash_id FROM import_wash WHERE import_id = :import)";
        String passes = "(SELECT id FROM pass WHERE wash_id IN " + ofImport + ")";
        run(handle, importId, "DELETE FROM mite_count WHERE pass_id IN " + passes);
        run(handle, importId, "DELETE FROM spirit_use WHERE pass_id IN " + passes);
        run(handle, importId, "DELETE FROM pass WHERE wash_id IN " + ofImport);
        // The line of a wash names it, so the washes are remembered while their lines go.
        List<UUID> washes =
                handle.createQuery("SELECT wash_id FROM import_wash WHERE import_id = :import")
                        .bind("import", importId)
                        .mapTo(UUID.class)
                        .list();
        run(handle, importId, "DELETE FROM import_wash WHERE import_id = :import");
        var batch = handle.prepareBatch("DELETE FROM wash WHERE id = :id");
        for (UUID wash : washes) {
            batch.bind("id", wash).add();
            if (batch.size() == WashBatch.SIZE) {
                batch.execute();
            }
        }
        batch.execute();
        deleteMade(handle, importId);
    }

    /** What was edited since, or is referred to by anything else, stays. */
    private static void deleteMade(Handle handle, UUID importId) {
        deleteMade(handle, importId, Made.COLONY, "colony WHERE version = 1 AND id = :id");
        deleteMade(handle, importId, Made.APIARY, "apiary WHERE version = 1 AND id = :id");
        deleteMade(handle, importId, Made.SPIRIT, "spirit_batch WHERE version = 1 AND id = :id");
        deleteMade(handle, importId, Made.OPERATOR, "operator WHERE id = :id");
        run(handle, importId, "DELETE FROM import_made WHERE import_id = :import");
    }

    private static void deleteMade(Handle handle, UUID importId, Made kind, String from) {
        List<UUID> made =
                handle.createQuery(
                                """
                                SELECT subject_id FROM import_made
                                WHERE import_id = :import AND kind = :kind""")
                        .bind("import", importId)
                        .bind("kind", kind)
                        .mapTo(UUID.class)
                        .list();
        for (UUID id : made) {
            handle.savepoint("made");
            try {
                handle.createUpdate("DELETE FROM " + from).bind("id", id).execute();
                handle.releaseSavepoint("made");
            } catch (UnableToExecuteStatementException referredTo) {
                // The foreign keys know every table that may refer to it, later ones too.
                handle.rollbackToSavepoint("made");
            }
        }
    }

    private static void run(Handle handle, UUID importId, String sql) {
        handle.createUpdate(sql).bind("import", importId).execute();
    }
}
