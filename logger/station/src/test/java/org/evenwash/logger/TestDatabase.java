package org.evenwash.logger;

import java.nio.file.Path;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicInteger;
import org.evenwash.logger.store.Database;

/**
 * Where a test keeps its rows: a SQLite file in its folder, or with {@code
 * -Devenwash.test.database=postgresql} a database of a cluster that all tests of this process share.
 */
public final class TestDatabase {
    private static final boolean POSTGRESQL =
            "postgresql".equals(System.getProperty("evenwash.test.database"));
    private static final Map<Path, String> ADDRESSES = new ConcurrentHashMap<>();

    private static final AtomicInteger MADE = new AtomicInteger();

    private TestDatabase() {}

    /** Started with the first test that asks for it, stopped with the process. */
    private static final class Shared {
        private static final String TEMPLATE = "migrated";
        private static final PostgresCluster CLUSTER = PostgresCluster.start();

        static {
            CLUSTER.execute("CREATE DATABASE " + TEMPLATE);
            Database.open(CLUSTER.url(TEMPLATE)).close();
        }
    }

    public static boolean isPostgresql() {
        return POSTGRESQL;
    }

    /** The shared cluster, started if need be. */
    public static PostgresCluster cluster() {
        return Shared.CLUSTER;
    }

    /** Address of an empty database; the same one whenever the same folder and name are given. */
    public static String in(Path folder, String name) {
        Path file = folder.resolve(name + ".db");
        return ADDRESSES.computeIfAbsent(
                file, place -> POSTGRESQL ? emptyPostgresql() : "jdbc:sqlite:" + place);
    }

    /** Address of an empty PostgreSQL database, whatever the other tests run on. */
    public static String emptyPostgresql() {
        PostgresCluster cluster = cluster();
        String name = "test" + MADE.incrementAndGet();
        cluster.execute("CREATE DATABASE " + name + " TEMPLATE " + Shared.TEMPLATE);
        return cluster.url(name);
    }
}
