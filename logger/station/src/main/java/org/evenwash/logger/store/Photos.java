package org.evenwash.logger.store;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code photo}. */
public final class Photos {
    private static final RowMapper<Photo> ROW = ConstructorMapper.of(Photo.class);

    private Photos() {}

    public static void insert(Handle handle, Photo photo, byte[] bytes) {
        handle.createUpdate(
                        """
                        INSERT INTO photo (id, wash_id, media_type, bytes, taken_at, added_by)
                        VALUES (:id, :washId, :mediaType, :bytes, :takenAt, :addedBy)""")
                .bindMethods(photo)
                .bind("bytes", bytes)
                .execute();
    }

    public static Optional<Photo> find(Handle handle, UUID id) {
        return handle.createQuery(
                        """
                        SELECT id, wash_id, media_type, taken_at, added_by FROM photo
                        WHERE id = :id""")
                .bind("id", id)
                .map(ROW)
                .findOne();
    }

    public static byte[] bytes(Handle handle, UUID id) {
        return handle.createQuery("SELECT bytes FROM photo WHERE id = :id")
                .bind("id", id)
                .map((row, context) -> row.getBytes("bytes"))
                .one();
    }

    /** In the order in which they were added. */
    public static List<Photo> ofWash(Handle handle, UUID washId) {
        return handle.createQuery(
                        """
                        SELECT id, wash_id, media_type, taken_at, added_by FROM photo
                        WHERE wash_id = :wash ORDER BY taken_at, id""")
                .bind("wash", washId)
                .map(ROW)
                .list();
    }

    public static void delete(Handle handle, UUID id) {
        handle.createUpdate("DELETE FROM photo WHERE id = :id").bind("id", id).execute();
    }
}
