package org.evenwash.logger.store;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code apiary}. */
public final class Apiaries {
    private static final RowMapper<Apiary> ROW = ConstructorMapper.of(Apiary.class);

    private Apiaries() {}

    public static void insert(Handle handle, Apiary apiary) {
        handle.createUpdate(
                        """
                        INSERT INTO apiary (id, name, time_zone, hemisphere, bee_sieve_mm, mite_sieve_mm,
                            remarks, created_at, version)
                        VALUES (:id, :name, :timeZone, :hemisphere, :beeSieve_mm, :miteSieve_mm,
                            :remarks, :createdAt, :version)""")
                .bindMethods(apiary)
                .execute();
    }

    public static Optional<Apiary> find(Handle handle, UUID id) {
        return handle.createQuery("SELECT * FROM apiary WHERE id = :id")
                .bind("id", id)
                .map(ROW)
                .findOne();
    }

    public static Optional<Apiary> named(Handle handle, String name) {
        return handle.createQuery("SELECT * FROM apiary WHERE name = :name")
                .bind("name", name)
                .map(ROW)
                .findOne();
    }

    public static List<Apiary> all(Handle handle) {
        return handle.createQuery("SELECT * FROM apiary ORDER BY name").map(ROW).list();
    }

    /** False when somebody edited the row since {@code version} was read. */
    public static boolean update(Handle handle, Apiary apiary) {
        return handle.createUpdate(
                                """
                                UPDATE apiary SET name = :name, time_zone = :timeZone,
                                    hemisphere = :hemisphere, bee_sieve_mm = :beeSieve_mm,
                                    mite_sieve_mm = :miteSieve_mm, remarks = :remarks, version = version + 1
                                WHERE id = :id AND version = :version""")
                        .bindMethods(apiary)
                        .execute()
                == 1;
    }
}
