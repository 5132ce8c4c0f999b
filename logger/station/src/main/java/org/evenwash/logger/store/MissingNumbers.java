package org.evenwash.logger.store;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.evenwash.logger.store.OutboxNumbers.Gap;
import org.jdbi.v3.core.Handle;

/**
 * Which numbers of an outbox have not come. A bench says how far it is every few seconds, for years, so
 * what was looked at is not read again: rows are never taken away, and only what was missing and what is
 * new can have changed. May be asked by several threads.
 */
public final class MissingNumbers {
    /** Of one outbox; what lies beyond them is looked at once one of them has come. */
    public static final int MOST_GAPS = 200;

    /** So many gaps are looked at one by one, and what came between and after them is not read again. */
    private static final int FEW = 4;

    /** A stranger on a broker could invent outboxes without end. */
    private static final int MOST_OUTBOXES = 20_000;

    /** All between 1 and {@code upTo} that is missing. */
    private record Known(long upTo, List<Gap> gaps) {
        static final Known NOTHING = new Known(0, List.of());
    }

    private final Map<UUID, Known> known = new HashMap<>();

    /** Between 1 and the highest that came, in ascending order, the first {@link #MOST_GAPS}. */
    public List<Gap> of(Handle handle, UUID outboxId) {
        Known before = known(outboxId);
        // First: what comes while the rest is read is looked at next time.
        long highest = OutboxNumbers.highest(handle, outboxId);
        List<Gap> gaps = new ArrayList<>();
        long after = before.upTo();
        if (before.gaps().size() > FEW) {
            // As while much comes late: many small questions would take longer than one.
            after = before.gaps().get(0).from() - 1;
        } else {
            for (Gap gap : before.gaps()) {
                gaps.addAll(OutboxNumbers.gaps(handle, outboxId, gap.from() - 1, gap.to() + 1));
            }
        }
        gaps.addAll(OutboxNumbers.gaps(handle, outboxId, after, highest));
        Known now = new Known(highest, List.copyOf(gaps));
        if (gaps.size() > MOST_GAPS) {
            List<Gap> first = List.copyOf(gaps.subList(0, MOST_GAPS));
            now = new Known(first.get(MOST_GAPS - 1).to() + 1, first);
        }
        note(outboxId, now);
        return now.gaps();
    }

    private synchronized Known known(UUID outboxId) {
        return known.getOrDefault(outboxId, Known.NOTHING);
    }

    private synchronized void note(UUID outboxId, Known now) {
        if (known.size() >= MOST_OUTBOXES) {
            known.clear();
        }
        known.put(outboxId, now);
    }
}
