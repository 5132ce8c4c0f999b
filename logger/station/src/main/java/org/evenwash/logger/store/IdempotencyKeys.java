package org.evenwash.logger.store;

import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code idempotency_key}. */
public final class IdempotencyKeys {
    private static final RowMapper<Answer> ROW = ConstructorMapper.of(Answer.class);

    /** What a request was answered with. */
    public record Answer(String operation, UUID answerId) {}

    private IdempotencyKeys() {}

    /** Takes a key for the first time; false if it was taken before. */
    public static boolean take(
            Handle handle, String key, String operation, UUID answerId, Instant at) {
        return handle.createUpdate(
                                """
                                INSERT INTO idempotency_key (key, operation, answer_id, answered_at)
                                VALUES (:key, :operation, :answer, :at) ON CONFLICT (key) DO NOTHING""")
                        .bind("key", key)
                        .bind("operation", operation)
                        .bind("answer", answerId)
                        .bind("at", at)
                        .execute()
                == 1;
    }

    /** Takes away the keys of requests that were answered before; tells how many. */
    public static int forget(Handle handle, Instant before) {
        return handle.createUpdate("DELETE FROM idempotency_key WHERE answered_at < :before")
                .bind("before", before)
                .execute();
    }

    public static Optional<Answer> find(Handle handle, String key) {
        return handle.createQuery(
                        "SELECT operation, answer_id FROM idempotency_key WHERE key = :key")
                .bind("key", key)
                .map(ROW)
                .findOne();
    }
}
