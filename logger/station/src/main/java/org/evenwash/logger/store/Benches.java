package org.evenwash.logger.store;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code bench}. */
public final class Benches {
    static final String SEEN =
            """
            INSERT INTO bench (id, name, simulated, added_at, last_seen_at)
            VALUES (:id, :id, :simulated, :at, :at)
            ON CONFLICT (id) DO UPDATE SET simulated = excluded.simulated,
                last_seen_at = excluded.last_seen_at""";
    private static final RowMapper<Bench> ROW = ConstructorMapper.of(Bench.class);

    private Benches() {}

    /** Adds a bench, or gives one that is already known a new name and password. */
    public static void put(Handle handle, Bench bench) {
        handle.createUpdate(
                        """
                        INSERT INTO bench (id, name, password_hash, simulated, added_at, last_seen_at)
                        VALUES (:id, :name, :passwordHash, :simulated, :addedAt, :lastSeenAt)
                        ON CONFLICT (id) DO UPDATE SET name = excluded.name,
                            password_hash = excluded.password_hash""")
                .bindMethods(bench)
                .execute();
    }

    /** Notes that a bench spoke; on an outside broker that may be the first that is known of it. */
    public static void seen(Handle handle, String benchId, boolean simulated, Instant at) {
        handle.createUpdate(SEEN)
                .bind("id", benchId)
                .bind("simulated", simulated)
                .bind("at", at)
                .execute();
    }

    /** Voids a bench's password. */
    public static void revoke(Handle handle, String id) {
        handle.createUpdate("UPDATE bench SET password_hash = NULL WHERE id = :id")
                .bind("id", id)
                .execute();
    }

    /** Hash of the password of each bench that has one. */
    public static Map<String, String> passwordHashes(Handle handle) {
        return handle.createQuery(
                        "SELECT id, password_hash FROM bench WHERE password_hash IS NOT NULL")
                .reduceRows(
                        new TreeMap<>(),
                        (all, row) -> {
                            all.put(
                                    row.getColumn("id", String.class),
                                    row.getColumn("password_hash", String.class));
                            return all;
                        });
    }

    public static Optional<Bench> find(Handle handle, String id) {
        return handle.createQuery("SELECT * FROM bench WHERE id = :id")
                .bind("id", id)
                .map(ROW)
                .findOne();
    }

    public static List<Bench> all(Handle handle) {
        return handle.createQuery("SELECT * FROM bench ORDER BY name, id").map(ROW).list();
    }
}
