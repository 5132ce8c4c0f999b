package org.evenwash.logger.store;

import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.PreparedBatch;

/**
 * Many washes written a thousand at a time, for an import or an invented archive. Belongs to one
 * transaction; nothing is written for sure before {@link #flush}.
 */
public final class WashBatch {
    static final int SIZE = 1_000;

    private final PreparedBatch washes;
    private final PreparedBatch passes;
    private final PreparedBatch counts;
    private final PreparedBatch uses;
    private final PreparedBatch lines;

    public WashBatch(Handle handle) {
        washes = handle.prepareBatch(Washes.INSERT);
        passes =
                handle.prepareBatch(
                        """
                        INSERT INTO pass (id, wash_id, kind, spirit_batch_id, hand_agitation_s, version)
                        VALUES (:id, :washId, :kind, :spiritBatchId, :handAgitation_s, :version)""");
        counts =
                handle.prepareBatch(
                        """
                        INSERT INTO mite_count (id, pass_id, mites, counted_by, counted_at, recount,
                            blind, version)
                        VALUES (:id, :passId, :mites, :countedBy, :countedAt, :recount,
                            :blind, :version)""");
        uses = handle.prepareBatch(SpiritBatches.INSERT_USE);
        lines =
                handle.prepareBatch(
                        """
                        INSERT INTO import_wash (wash_id, import_id, line, row_key)
                        VALUES (:wash, :import, :line, :key)""");
    }

    public void add(Wash wash) {
        if (washes.size() >= SIZE) {
            flush();
        }
        washes.bindMethods(wash).add();
    }

    /** After its wash. */
    public void add(WashPass pass) {
        passes.bindMethods(pass).add();
    }

    /** After its pass. */
    public void add(MiteCount count) {
        counts.bindMethods(count).add();
    }

    /** After its pass. */
    public void add(SpiritUse use) {
        uses.bindMethods(use).add();
    }

    /** From which line of which file a wash came. */
    public void from(UUID importId, long line, long rowKey, UUID washId) {
        lines.bind("wash", washId)
                .bind("import", importId)
                .bind("line", line)
                .bind("key", rowKey)
                .add();
    }

    /** Writes what was added: parents before children. */
    public void flush() {
        for (PreparedBatch batch : new PreparedBatch[] {washes, passes, counts, uses, lines}) {
            if (batch.size() > 0) {
                batch.execute();
            }
        }
    }
}
