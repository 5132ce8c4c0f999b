package org.evenwash.logger.store;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code set_aside}. */
public final class SetAsides {
    private static final String COLUMNS =
            """
            id, received_at, topic, bench_id, message_id, reason, sha256, size_bytes, replayed_at,
            replay_result""";
    private static final RowMapper<SetAside> ROW = ConstructorMapper.of(SetAside.class);

    private SetAsides() {}

    /** Keeps a message; the same bytes on the same topic are kept once. */
    public static void insert(Handle handle, SetAside message, byte[] payload) {
        handle.createUpdate(
                        """
                        INSERT INTO set_aside (id, received_at, topic, bench_id, message_id, reason,
                            payload, sha256, size_bytes)
                        VALUES (:id, :receivedAt, :topic, :benchId, :messageId, :reason,
                            :payload, :sha256, :size_bytes)
                        ON CONFLICT (topic, sha256) DO NOTHING""")
                .bindMethods(message)
                .bind("payload", payload)
                .execute();
    }

    /** Newest first. */
    public static Listing<SetAside> list(Handle handle, Page page) {
        List<SetAside> rows =
                handle.createQuery(
                                "SELECT "
                                        + COLUMNS
                                        + " FROM set_aside ORDER BY received_at DESC, id"
                                        + " LIMIT :size OFFSET :offset")
                        .bind("size", page.size())
                        .bind("offset", page.offset())
                        .map(ROW)
                        .list();
        long total = handle.createQuery("SELECT COUNT(*) FROM set_aside").mapTo(Long.class).one();
        return new Listing<>(rows, total, page);
    }

    public static long count(Handle handle) {
        return handle.createQuery("SELECT COUNT(*) FROM set_aside").mapTo(Long.class).one();
    }

    public static Optional<SetAside> find(Handle handle, UUID id) {
        return handle.createQuery("SELECT " + COLUMNS + " FROM set_aside WHERE id = :id")
                .bind("id", id)
                .map(ROW)
                .findOne();
    }

    public static Optional<byte[]> payload(Handle handle, UUID id) {
        return handle.createQuery("SELECT payload FROM set_aside WHERE id = :id")
                .bind("id", id)
                .map((row, context) -> row.getBytes("payload"))
                .findOne();
    }

    public static void replayed(Handle handle, UUID id, String result, Instant at) {
        handle.createUpdate(
                        """
                        UPDATE set_aside SET replayed_at = :at, replay_result = :result
                        WHERE id = :id""")
                .bind("id", id)
                .bind("at", at)
                .bind("result", result)
                .execute();
    }
}
