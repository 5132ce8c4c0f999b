package org.evenwash.logger.store;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code mite_count}. */
public final class MiteCounts {
    private static final RowMapper<MiteCount> ROW = ConstructorMapper.of(MiteCount.class);

    private MiteCounts() {}

    /** False when the pass already has its count and this is not a recount. */
    public static boolean insert(Handle handle, MiteCount count) {
        return handle.createUpdate(
                                """
                                INSERT INTO mite_count (id, pass_id, mites, counted_by, counted_at, recount,
                                    blind, version)
                                VALUES (:id, :passId, :mites, :countedBy, :countedAt, :recount,
                                    :blind, :version)
                                ON CONFLICT (pass_id) WHERE NOT recount DO NOTHING""")
                        .bindMethods(count)
                        .execute()
                == 1;
    }

    public static Optional<MiteCount> find(Handle handle, UUID id) {
        return handle.createQuery("SELECT * FROM mite_count WHERE id = :id")
                .bind("id", id)
                .map(ROW)
                .findOne();
    }

    /** The count that results rest on. */
    public static Optional<MiteCount> firstOf(Handle handle, UUID passId) {
        return handle.createQuery("SELECT * FROM mite_count WHERE pass_id = :pass AND NOT recount")
                .bind("pass", passId)
                .map(ROW)
                .findOne();
    }

    /** The first count, then recounts in order. */
    public static List<MiteCount> ofPass(Handle handle, UUID passId) {
        return handle.createQuery(
                        """
                        SELECT * FROM mite_count WHERE pass_id = :pass
                        ORDER BY recount, counted_at, id""")
                .bind("pass", passId)
                .map(ROW)
                .list();
    }

    /** False when somebody edited the row since {@code version} was read. */
    public static boolean update(Handle handle, MiteCount count) {
        return handle.createUpdate(
                                """
                                UPDATE mite_count SET mites = :mites, counted_by = :countedBy,
                                    version = version + 1
                                WHERE id = :id AND version = :version""")
                        .bindMethods(count)
                        .execute()
                == 1;
    }
}
