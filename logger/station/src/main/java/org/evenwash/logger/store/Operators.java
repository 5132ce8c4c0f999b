package org.evenwash.logger.store;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code operator}. */
public final class Operators {
    private static final RowMapper<Operator> ROW = ConstructorMapper.of(Operator.class);

    private Operators() {}

    public static void insert(Handle handle, Operator operator) {
        handle.createUpdate(
                        """
                        INSERT INTO operator (id, name, active, created_at)
                        VALUES (:id, :name, :active, :createdAt)""")
                .bindMethods(operator)
                .execute();
    }

    public static Optional<Operator> find(Handle handle, UUID id) {
        return handle.createQuery("SELECT * FROM operator WHERE id = :id")
                .bind("id", id)
                .map(ROW)
                .findOne();
    }

    public static Optional<Operator> named(Handle handle, String name) {
        return handle.createQuery("SELECT * FROM operator WHERE name = :name")
                .bind("name", name)
                .map(ROW)
                .findOne();
    }

    public static List<Operator> all(Handle handle) {
        return handle.createQuery("SELECT * FROM operator ORDER BY name").map(ROW).list();
    }
}
