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

    /** Numbers missing between 1 and the highest that came, of all outboxes. */
    public static List<Gap> gaps(Handle handle) {
        return handle.createQuery(
                        """
                        SELECT bench_id, outbox_id, earlier + 1 AS "from", sequence - 1 AS "to" FROM (
                            SELECT bench_id, outbox_id, sequence,
                                COALESCE(LAG(sequence) OVER
                                    (PARTITION BY outbox_id ORDER BY sequence), 0) AS earlier
                            FROM outbox_number) numbers
                        WHERE sequence - earlier > 1
                        ORDER BY bench_id, outbox_id, sequence""")
                .map(GAP)
                .list();
    }

    /**
     * Numbers of one outbox missing between two.
     *
     * @param after 0, or one that has come
     * @param upTo one that has come, or 0 where none has
     */
    static List<Gap> gaps(Handle handle, UUID outboxId, long after, long upTo) {
        return handle.createQuery(
                        """
                        SELECT bench_id, outbox_id, earlier + 1 AS "from", sequence - 1 AS "to" FROM (
                            SELECT bench_id, outbox_id, sequence,
                                COALESCE(LAG(sequence) OVER (ORDER BY sequence), :after) AS earlier
                            FROM outbox_number
                            WHERE outbox_id = :outbox AND sequence > :after AND sequence <= :upTo
                            ) numbers
                        WHERE sequence - earlier > 1
                        ORDER BY sequence""")
                .bind("outbox", outboxId)
                .bind("after", after)
                .bind("upTo", upTo)
                .map(GAP)
                .list();
    }

    /**
     * Outboxes of a bench. One row of each is looked at, whatever it holds: on a copied card two benches
     * write into one, which shows by its first number, its last or a clash.
     */
    public static List<UUID> outboxes(Handle handle, String benchId) {
        return handle.createQuery(
                        """
                        WITH RECURSIVE known (outbox_id) AS (
                            SELECT MIN(outbox_id) FROM outbox_number
                            UNION ALL
                            SELECT (SELECT MIN(later.outbox_id) FROM outbox_number later
                                    WHERE later.outbox_id > known.outbox_id)
                            FROM known WHERE known.outbox_id IS NOT NULL)
                        SELECT known.outbox_id FROM known
                        WHERE known.outbox_id IS NOT NULL
                            AND (:bench = (SELECT bench_id FROM outbox_number held
                                    WHERE held.outbox_id = known.outbox_id
                                    ORDER BY sequence LIMIT 1)
                                OR :bench = (SELECT bench_id FROM outbox_number held
                                    WHERE held.outbox_id = known.outbox_id
                                    ORDER BY sequence DESC LIMIT 1)
                                OR EXISTS (SELECT 1 FROM outbox_clash
                                    WHERE outbox_clash.outbox_id = known.outbox_id
                                        AND outbox_clash.bench_id = :bench))
                        ORDER BY known.outbox_id""")
                .bind("bench", benchId)
                .mapTo(UUID.class)
                .list();
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
