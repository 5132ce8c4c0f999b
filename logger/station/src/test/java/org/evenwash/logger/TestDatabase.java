package org.evenwash.logger;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
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

    /** A file with all tables and no rows: migrating anew for each test takes longer than most tests. */
    private static final class Migrated {
        private static final byte[] FILE = migrated();

        private static byte[] migrated() {
            try {
                Path folder = Files.createTempDirectory("evenwash-migrated");
                Path file = folder.resolve("migrated.db");
                Database.open("jdbc:sqlite:" + file).close();
                byte[] whole = Files.readAllBytes(file);
                Files.delete(file);
                Files.delete(folder);
                return whole;
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }
    }

    /** Address of an empty database; the same one whenever the same folder and name are given. */
    public static String in(Path folder, String name) {
        return ADDRESSES.computeIfAbsent(
                folder.resolve(name + ".db"),
                file -> POSTGRESQL ? emptyPostgresql() : emptySqlite(file));
    }

    private static String emptySqlite(Path file) {
        try {
            Files.write(file, Migrated.FILE, StandardOpenOption.CREATE_NEW);
            return "jdbc:sqlite:" + file;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Address of an empty PostgreSQL database, whatever the other tests run on. */
    public static String emptyPostgresql() {
        PostgresCluster cluster = cluster();
        String name = "test" + MADE.incrementAndGet();
        cluster.execute("CREATE DATABASE " + name + " TEMPLATE " + Shared.TEMPLATE);
        return cluster.url(name);
    }
}
