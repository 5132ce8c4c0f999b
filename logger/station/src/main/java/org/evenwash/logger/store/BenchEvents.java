package org.evenwash.logger.store;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.record.BenchEvent;
import org.jdbi.v3.core.Handle;

/** Rows of {@code bench_event}. */
public final class BenchEvents {
    private BenchEvents() {}

    public static Optional<String> sha256(Handle handle, UUID eventId) {
        return handle.createQuery("SELECT sha256 FROM bench_event WHERE id = :id")
                .bind("id", eventId)
                .mapTo(String.class)
                .findOne();
    }

    /** Newest first. */
    public static Listing<BenchEvent> list(Handle handle, String benchId, Page page) {
        List<BenchEvent> rows =
                handle.createQuery(
                                """
                                SELECT event_json FROM bench_event WHERE bench_id = :bench
                                ORDER BY happened_at DESC, id LIMIT :size OFFSET :offset""")
                        .bind("bench", benchId)
                        .bind("size", page.size())
                        .bind("offset", page.offset())
                        .mapTo(String.class)
                        .map(json -> Json.read(json, BenchEvent.class))
                        .list();
        long total =
                handle.createQuery("SELECT COUNT(*) FROM bench_event WHERE bench_id = :bench")
                        .bind("bench", benchId)
                        .mapTo(Long.class)
                        .one();
        return new Listing<>(rows, total, page);
    }
}
