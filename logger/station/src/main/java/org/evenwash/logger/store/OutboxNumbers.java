package org.evenwash.logger.store;

import java.time.Instant;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/**
 * Rows of {@code outbox_number} and {@code outbox_clash}: which numbers of each outbox have come, and which
 * were claimed twice.
 */
public final class OutboxNumbers {
    /** A copied card: a number that came from another bench has come all the same. */
    private static final String SAME_OUTBOXES =
            " WHERE outbox_id IN (SELECT outbox_id FROM outbox_number WHERE bench_id = :bench)";

    private static final String CLAIMED_BY =
            "WHERE later.bench_id = :bench OR first.bench_id = :bench\n";

    private static final RowMapper<Gap> GAP = ConstructorMapper.of(Gap.class);
    private static final RowMapper<Clash> CLASH = ConstructorMapper.of(Clash.class);

    /** Numbers {@code from} to {@code to}, both included, that have not come. */
    public record Gap(String benchId, UUID outboxId, long from, long to) {
        public long missing() {
            return to - from + 1;
        }
    }

    /**
     * One number claimed by several messages.
     *
     * @param otherBenchId the same as {@code benchId} unless a second bench claimed it
     * @param lastAt when the latest of the messages after the first was taken in
     */
    public record Clash(
            String benchId,
            String otherBenchId,
            UUID outboxId,
            long sequence,
            long messages,
            Instant lastAt) {}

    /** A message and the number that it says it has. */
    public record Claim(String benchId, UUID outboxId, long sequence, UUID messageId) {}

    private OutboxNumbers() {}

    /** Notes a number; true when another message has claimed the same one. */
    public static boolean note(
            Handle handle, String benchId, UUID outboxId, long sequence, UUID messageId) {
        Claim claim = new Claim(benchId, outboxId, sequence, messageId);
        return !note(handle, List.of(claim)).isEmpty();
    }

    /** Notes numbers; the result names the messages whose number another one had claimed before. */
    public static Set<UUID> note(Handle handle, List<Claim> claims) {
        boolean[] first;
        try (RowBatch rows =
                new RowBatch(
                        handle,
                        """
                        INSERT INTO outbox_number (outbox_id, sequence, message_id, bench_id)
                        VALUES (?, ?, ?, ?)
                        ON CONFLICT (outbox_id, sequence) DO NOTHING""")) {
            for (Claim claim : claims) {
                rows.id(claim.outboxId())
                        .number(claim.sequence())
                        .id(claim.messageId())
                        .text(claim.benchId())
                        .add();
            }
            first = rows.changed();
        }
        Set<UUID> clashing = new HashSet<>();
        for (int i = 0; i < first.length; i++) {
            if (!first[i] && clashes(handle, claims.get(i))) {
                clashing.add(claims.get(i).messageId());
            }
        }
        return clashing;
    }

    private static boolean clashes(Handle handle, Claim claim) {
        UUID holder =
                handle.createQuery(
                                """
                                SELECT message_id FROM outbox_number
                                WHERE outbox_id = :outboxId AND sequence = :sequence""")
                        .bindMethods(claim)
                        .mapTo(UUID.class)
                        .one();
        if (holder.equals(claim.messageId())) {
            return false;
        }
        handle.createUpdate(
                        """
                        INSERT INTO outbox_clash (outbox_id, sequence, message_id, bench_id)
                        VALUES (:outboxId, :sequence, :messageId, :benchId)
                        ON CONFLICT (outbox_id, sequence, message_id) DO NOTHING""")
                .bindMethods(claim)
                .execute();
        return true;
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
                                + (benchId == null ? "" : SAME_OUTBOXES)
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

    /** Numbers that came with several messages, claimed by one bench or (null) by any. */
    public static List<Clash> clashes(Handle handle, String benchId) {
        var query =
                handle.createQuery(
                        """
                        SELECT MIN(CASE WHEN later.bench_id < first.bench_id
                                THEN later.bench_id ELSE first.bench_id END) AS bench_id,
                            MAX(CASE WHEN later.bench_id > first.bench_id
                                THEN later.bench_id ELSE first.bench_id END) AS other_bench_id,
                            first.outbox_id, first.sequence, 1 + COUNT(*) AS messages,
                            MAX(COALESCE(cycle.received_at, bench_event.received_at)) AS last_at
                        FROM outbox_clash later JOIN outbox_number first
                            ON first.outbox_id = later.outbox_id AND first.sequence = later.sequence
                            LEFT JOIN cycle ON cycle.id = later.message_id
                            LEFT JOIN bench_event ON bench_event.id = later.message_id
                        """
                                + (benchId == null ? "" : CLAIMED_BY)
                                + """
                                GROUP BY first.outbox_id, first.sequence
                                ORDER BY first.outbox_id, first.sequence""");
        if (benchId != null) {
            query.bind("bench", benchId);
        }
        return query.map(CLASH).list();
    }
}
