package org.evenwash.logger.store;

import java.util.List;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code correction}; they are only ever added. */
public final class Corrections {
    private static final RowMapper<Correction> ROW = ConstructorMapper.of(Correction.class);

    private Corrections() {}

    public static void insert(Handle handle, Correction correction) {
        handle.createUpdate(
                        """
                        INSERT INTO correction (id, subject, subject_id, wash_id, field, earlier, later,
                            version, corrected_at, corrected_by, why)
                        VALUES (:id, :subject, :subjectId, :washId, :field, :earlier, :later,
                            :version, :correctedAt, :correctedBy, :why)""")
                .bindMethods(correction)
                .execute();
    }

    public static List<Correction> ofWash(Handle handle, UUID washId) {
        return handle.createQuery(
                        "SELECT * FROM correction WHERE wash_id = :wash ORDER BY corrected_at, id")
                .bind("wash", washId)
                .map(ROW)
                .list();
    }

    /** What changed on a row since somebody read it in {@code version}. */
    public static List<Correction> since(Handle handle, UUID subjectId, long version) {
        return handle.createQuery(
                        """
                        SELECT * FROM correction WHERE subject_id = :subject AND version >= :version
                        ORDER BY version, corrected_at""")
                .bind("subject", subjectId)
                .bind("version", version)
                .map(ROW)
                .list();
    }
}
