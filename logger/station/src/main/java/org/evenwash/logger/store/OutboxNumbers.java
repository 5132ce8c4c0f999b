package org.evenwash.logger.store;

import java.util.List;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code outbox_number}: which numbers of each outbox have come. */
public final class OutboxNumbers {
    private static final RowMapper<Gap> GAP = ConstructorMapper.of(Gap.class);
    private static final RowMapper<Clash> CLASH = ConstructorMapper.of(Clash.class);

    /** Numbers {@code from} to {@code to}, both included, that have not come. */
    public record Gap(String benchId, UUID outboxId, long from, long to) {
        public long missing() {
            return to - from + 1;
        }
    }

    /** One number claimed by several messages. */
    public record Clash(String benchId, UUID outboxId, long sequence, long messages) {}

    private OutboxNumbers() {}

    /** Notes a number; true when another message has claimed the same one. */
    public static boolean note(
            Handle handle, String benchId, UUID outboxId, long sequence, UUID messageId) {
        handle.createUpdate(
                        """
                        INSERT INTO outbox_number (outbox_id, sequence, message_id, bench_id)
                        VALUES (:outbox, :sequence, :message, :bench)
                        ON CONFLICT (outbox_id, sequence, message_id) DO NOTHING""")
                .bind("outbox", outboxId)
                .bind("sequence", sequence)
                .bind("message", messageId)
                .bind("bench", benchId)
                .execute();
        return handle.createQuery(
                                """
                                SELECT COUNT(*) FROM outbox_number
                                WHERE outbox_id = :outbox AND sequence = :sequence""")
                        .bind("outbox", outboxId)
                        .bind("sequence", sequence)
                        .mapTo(Long.class)
                        .one()
                > 1;
    }

    /** Numbers missing between 1 and the highest that came, for one bench or (null) for all. */
    public static List<Gap> gaps(Handle handle, String benchId) {
        var query =
                handle.createQuery(
                        """
                        SELECT bench_id, outbox_id, earlier + 1 AS "from", sequence - 1 AS "to" FROM (
                            SELECT bench_id, outbox_id, sequence,
                                COALESCE(LAG(sequence) OVER
                                    (PARTITION BY outbox_id ORDER BY sequence), 0) AS earlier
                            FROM outbox_number"""
                                + (benchId == null ? "" : " WHERE bench_id = :bench")
                                + """
                                ) numbers
                                WHERE sequence - earlier > 1
                                ORDER BY bench_id, outbox_id, sequence""");
        if (benchId != null) {
            query.bind("bench", benchId);
        }
        return query.map(GAP).list();
    }

    public static long highest(Handle handle, UUID outboxId) {
        return handle.createQuery(
                        """
                        SELECT COALESCE(MAX(sequence), 0) FROM outbox_number
                        WHERE outbox_id = :outbox""")
                .bind("outbox", outboxId)
                .mapTo(Long.class)
                .one();
    }

    public static List<Clash> clashes(Handle handle) {
        return handle.createQuery(
                        """
                        SELECT MIN(bench_id) AS bench_id, outbox_id, sequence, COUNT(*) AS messages
                        FROM outbox_number GROUP BY outbox_id, sequence HAVING COUNT(*) > 1
                        ORDER BY outbox_id, sequence""")
                .map(CLASH)
                .list();
    }
}
