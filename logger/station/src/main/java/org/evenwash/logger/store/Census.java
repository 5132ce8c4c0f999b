package org.evenwash.logger.store;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jdbi.v3.core.Handle;

/** How much a database holds, without any of what it holds. */
public final class Census {
    private static final String SQLITE_TABLES =
            "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'";
    private static final String POSTGRES_TABLES =
            "SELECT tablename FROM pg_tables WHERE schemaname = current_schema()";

    private Census() {}

    /** Rows of each table, by its name. */
    public static Map<String, Long> rows(Handle handle, boolean sqlite) {
        List<String> tables =
                handle.createQuery(sqlite ? SQLITE_TABLES : POSTGRES_TABLES)
                        .mapTo(String.class)
                        .list();
        Map<String, Long> rows = new TreeMap<>();
        for (String table : tables) {
            // A name from the catalogue, not from a person.
            String count = "SELECT COUNT(*) FROM \"" + table.replace("\"", "\"\"") + "\"";
            rows.put(table, handle.createQuery(count).mapTo(Long.class).one());
        }
        return rows;
    }

    /** The schema's migrations that were applied, in order, as {@code version name}. */
    public static List<String> migrations(Handle handle) {
        return handle.createQuery(
                        """
                        SELECT version || ' ' || description FROM flyway_schema_history
                        WHERE version IS NOT NULL ORDER BY installed_rank""")
                .mapTo(String.class)
                .list();
    }
}
