package org.evenwash.logger.store;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code import_file}. */
public final class ImportFiles {
    private static final RowMapper<ImportFile> ROW = ConstructorMapper.of(ImportFile.class);
    private static final String COLUMNS =
            "id, name, sha256, size_bytes, standing, plan_json, outcome_json, uploaded_at,"
                    + " imported_at, imported_by, undone_at, undone_by, undone_why";

    private ImportFiles() {}

    /**
     * @param packed its bytes, gzip
     */
    public static void insert(Handle handle, ImportFile file, byte[] packed) {
        handle.createUpdate(
                        """
                        INSERT INTO import_file (id, name, sha256, size_bytes, packed, standing,
                            uploaded_at)
                        VALUES (:id, :name, :sha256, :size_bytes, :packed, :standing, :uploadedAt)""")
                .bindMethods(file)
                .bind("packed", packed)
                .execute();
    }

    public static Optional<ImportFile> find(Handle handle, UUID id) {
        return handle.createQuery("SELECT " + COLUMNS + " FROM import_file WHERE id = :id")
                .bind("id", id)
                .map(ROW)
                .findOne();
    }

    /** Files of the same bytes, newest first. */
    public static List<ImportFile> ofContent(Handle handle, String sha256) {
        return handle.createQuery(
                        "SELECT "
                                + COLUMNS
                                + " FROM import_file WHERE sha256 = :sha256 ORDER BY uploaded_at DESC")
                .bind("sha256", sha256)
                .map(ROW)
                .list();
    }

    /** Newest first. */
    public static List<ImportFile> latest(Handle handle, int most) {
        return handle.createQuery(
                        "SELECT "
                                + COLUMNS
                                + " FROM import_file ORDER BY uploaded_at DESC, id LIMIT :most")
                .bind("most", most)
                .map(ROW)
                .list();
    }

    public static byte[] packed(Handle handle, UUID id) {
        return handle.createQuery("SELECT packed FROM import_file WHERE id = :id")
                .bind("id", id)
                .mapTo(byte[].class)
                .one();
    }

    /** Keeps a dry run; false once the file was imported. */
    public static boolean checked(Handle handle, UUID id, String planJson, String outcomeJson) {
        return handle.createUpdate(
                                """
                                UPDATE import_file SET standing = 'CHECKED', plan_json = :plan,
                                    outcome_json = :outcome
                                WHERE id = :id AND standing <> 'IMPORTED'""")
                        .bind("id", id)
                        .bind("plan", planJson)
                        .bind("outcome", outcomeJson)
                        .execute()
                == 1;
    }

    /** False where another request imported it first. */
    public static boolean imported(Handle handle, UUID id, Instant at, UUID by) {
        return handle.createUpdate(
                                """
                                UPDATE import_file SET standing = 'IMPORTED', imported_at = :at,
                                    imported_by = :by, undone_at = NULL, undone_by = NULL,
                                    undone_why = NULL
                                WHERE id = :id AND standing = 'CHECKED'""")
                        .bind("id", id)
                        .bind("at", at)
                        .bind("by", by)
                        .execute()
                == 1;
    }

    public static void setOutcome(Handle handle, UUID id, String outcomeJson) {
        handle.createUpdate("UPDATE import_file SET outcome_json = :outcome WHERE id = :id")
                .bind("id", id)
                .bind("outcome", outcomeJson)
                .execute();
    }

    public static boolean undone(Handle handle, UUID id, Instant at, UUID by, String why) {
        return handle.createUpdate(
                                """
                                UPDATE import_file SET standing = 'UNDONE', undone_at = :at,
                                    undone_by = :by, undone_why = :why
                                WHERE id = :id AND standing = 'IMPORTED'""")
                        .bind("id", id)
                        .bind("at", at)
                        .bind("by", by)
                        .bind("why", why)
                        .execute()
                == 1;
    }

    /** Throws a file away that was never imported; false if it was. */
    public static boolean discard(Handle handle, UUID id) {
        return handle.createUpdate(
                                """
                                DELETE FROM import_file
                                WHERE id = :id AND standing IN ('UPLOADED', 'CHECKED')""")
                        .bind("id", id)
                        .execute()
                == 1;
    }

    /** Throws files away that nobody imported since {@code before}. */
    public static int discardStale(Handle handle, Instant before) {
        return handle.createUpdate(
                        """
                        DELETE FROM import_file
                        WHERE standing IN ('UPLOADED', 'CHECKED') AND uploaded_at < :before""")
                .bind("before", before)
                .execute();
    }
}
