package org.evenwash.logger.store;

import com.zaxxer.hikari.HikariConfig;
import com.zaxxer.hikari.HikariDataSource;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Function;
import javax.sql.DataSource;
import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.MigrationInfo;
import org.flywaydb.core.api.MigrationState;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.Jdbi;
import org.jdbi.v3.core.transaction.TransactionIsolationLevel;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteDataSource;

/**
 * The station's database: a SQLite file, or PostgreSQL where several people or processes share one.
 * Opening it checks the file and brings the schema up to date.
 */
public final class Database implements AutoCloseable {
    private static final String DEMONSTRATION = "demonstration";
    private static final int WAIT_FOR_WRITER_MS = 15_000;

    /** 16 MB of changes: four times SQLite's own figure spares a quarter of the time of many inserts. */
    private static final int CHECKPOINT_PAGES = 4_000;

    private final HikariDataSource pool;
    private final Jdbi jdbi;
    private final String url;
    private final boolean sqlite;

    private Database(HikariDataSource pool, String url, boolean sqlite) {
        this.pool = pool;
        this.url = url;
        this.sqlite = sqlite;
        this.jdbi = Bindings.install(Jdbi.create(pool));
    }

    /**
     * Opens {@code jdbc:sqlite:…} or {@code jdbc:postgresql:…}.
     *
     * @throws DatabaseTrouble if it cannot be opened, is damaged, or is newer than this program
     */
    public static Database open(String url) {
        boolean sqlite = url.startsWith("jdbc:sqlite:");
        if (!sqlite && !url.startsWith("jdbc:postgresql:")) {
            throw new DatabaseTrouble(
                    "the database address reads '"
                            + Postgres.withoutSecrets(url)
                            + "', expected jdbc:sqlite:FILE or jdbc:postgresql://HOST/NAME");
        }
        HikariConfig config = new HikariConfig();
        config.setPoolName("database");
        config.setDataSource(sqlite ? sqliteSource(url) : Postgres.source(url, System::getenv));
        if (sqlite) {
            config.setConnectionInitSql("PRAGMA wal_autocheckpoint = " + CHECKPOINT_PAGES);
        }
        // One writer at a time in SQLite: more connections would only wait for each other.
        config.setMaximumPoolSize(sqlite ? 4 : 8);
        config.setMinimumIdle(1);
        HikariDataSource pool;
        try {
            pool = new HikariDataSource(config);
        } catch (RuntimeException e) {
            throw notOpened("cannot be opened", url, sqlite, e);
        }
        Database database = new Database(pool, url, sqlite);
        try {
            database.checkFile();
            migrate(pool);
        } catch (DatabaseTrouble e) {
            database.close();
            throw e;
        } catch (RuntimeException e) {
            database.close();
            throw notOpened("cannot be brought to this program's schema", url, sqlite, e);
        }
        return database;
    }

    /** All steps or none: a step that fails leaves the database as the earlier program knows it. */
    private static void migrate(DataSource source) {
        Flyway flyway = Flyway.configure().dataSource(source).group(true).load();
        for (MigrationInfo step : flyway.info().applied()) {
            if (step.getState() == MigrationState.FUTURE_SUCCESS) {
                throw new DatabaseTrouble(
                        "the database was made by a newer version of this program (step "
                                + step.getVersion()
                                + "); install that version again, or restore a backup that an"
                                + " earlier one wrote");
            }
        }
        flyway.migrate();
    }

    private static DataSource sqliteSource(String url) {
        SQLiteConfig config = new SQLiteConfig();
        config.setJournalMode(SQLiteConfig.JournalMode.WAL);
        // FULL: a commit is on the card before its receipt leaves; NORMAL could lose it with the
        // power.
        config.setSynchronous(SQLiteConfig.SynchronousMode.FULL);
        config.enforceForeignKeys(true);
        config.setBusyTimeout(WAIT_FOR_WRITER_MS);
        // A transaction that reads first and writes later would fail instead of waiting its turn.
        config.setTransactionMode(SQLiteConfig.TransactionMode.IMMEDIATE);
        SQLiteDataSource source = new SQLiteDataSource(config);
        source.setUrl(url);
        return source;
    }

    private void checkFile() {
        if (!sqlite) {
            return;
        }
        List<String> faults =
                read(
                        handle ->
                                handle.createQuery("PRAGMA integrity_check(5)")
                                        .mapTo(String.class)
                                        .list());
        if (!faults.equals(List.of("ok"))) {
            throw damaged(String.join("; ", faults), null);
        }
        // One that cannot be written is found here, before Flyway fills the log with it.
        read(
                handle -> {
                    handle.execute("BEGIN IMMEDIATE");
                    return handle.execute("ROLLBACK");
                });
    }

    /** Only what SQLite finds wrong in the file is damage: a backup would not help a disk that is full. */
    private static DatabaseTrouble notOpened(
            String what, String url, boolean sqlite, RuntimeException e) {
        String said = Refusal.in(e);
        if (!sqlite) {
            return new DatabaseTrouble(
                    "the database " + Postgres.withoutSecrets(url) + " " + what + ": " + said, e);
        }
        FileFault fault = FileFault.in(e).orElse(null);
        if (fault == null) {
            return new DatabaseTrouble("the database " + what + ": " + said, e);
        }
        return switch (fault) {
            case DAMAGED, NO_DATABASE -> damaged(said, e);
            case NO_ROOM, NOT_WRITABLE, DISK_FAILS ->
                    new DatabaseTrouble(
                            "the database "
                                    + url.replaceFirst("^jdbc:sqlite:", "")
                                    + " cannot be opened: "
                                    + fault.words()
                                    + ", then start again ("
                                    + said
                                    + ")",
                            e);
        };
    }

    private static DatabaseTrouble damaged(String fault, Throwable cause) {
        return new DatabaseTrouble(
                "the database file is damaged ("
                        + fault.replace('\n', ' ')
                        + "); restore the latest backup with 'evenwash-logger restore'",
                cause);
    }

    /** For looking; nothing is promised about two statements seeing the same state. */
    public <T> T read(Function<Handle, T> work) {
        return jdbi.withHandle(work::apply);
    }

    /** For looking at much: all statements see the same state, while writers go on. */
    public <T> T snapshot(Function<Handle, T> work) {
        if (!sqlite) {
            return jdbi.inTransaction(TransactionIsolationLevel.REPEATABLE_READ, work::apply);
        }
        return jdbi.withHandle(
                handle -> {
                    // The driver's own transactions take the writer's place at once.
                    handle.execute("BEGIN DEFERRED");
                    try {
                        return work.apply(handle);
                    } finally {
                        handle.execute("ROLLBACK");
                    }
                });
    }

    /**
     * One transaction: all of it or nothing, and as if no other ran beside it. Where PostgreSQL finds that
     * another one did get in its way, the work is done again: it must change nothing but the database.
     */
    public <T> T write(Function<Handle, T> work) {
        return sqlite
                ? jdbi.inTransaction(work::apply)
                : Contention.outlast(
                        () ->
                                jdbi.inTransaction(
                                        TransactionIsolationLevel.SERIALIZABLE, work::apply));
    }

    /** As {@link #write}, without an answer. */
    public void change(Consumer<Handle> work) {
        write(
                handle -> {
                    work.accept(handle);
                    return true;
                });
    }

    /**
     * One transaction of statements that each hold beside those of others, such as inserting what is not
     * there yet. Several processes can append at once without waiting for each other.
     */
    public <T> T append(Function<Handle, T> work) {
        return sqlite
                ? jdbi.inTransaction(work::apply)
                : Contention.outlast(
                        () ->
                                jdbi.inTransaction(
                                        TransactionIsolationLevel.READ_COMMITTED, work::apply));
    }

    /** Whether the database was in trouble (away, locked, full), rather than refused what it was given. */
    public static boolean isOwnTrouble(RuntimeException trouble) {
        return Contention.isOwnTrouble(trouble);
    }

    /** Whether a text was refused for a character that this database cannot hold: U+0000 in PostgreSQL. */
    public static boolean isOfCharacters(Throwable trouble) {
        return Refusal.isOfCharacters(trouble);
    }

    /** What the database said when it refused something, fit for a log and for a column. */
    public static String refusal(RuntimeException trouble) {
        return Refusal.in(trouble);
    }

    /** True for a database in which invented washes may count as real ones; said on every page. */
    public boolean demonstration() {
        return fact(DEMONSTRATION).map(Boolean::parseBoolean).orElse(false);
    }

    /**
     * Makes an empty database a demonstration, for good.
     *
     * @throws DatabaseTrouble if it already holds washes or cycles
     */
    public void becomeDemonstration() {
        change(
                handle -> {
                    long rows =
                            handle.createQuery(
                                            "SELECT (SELECT COUNT(*) FROM wash) + (SELECT COUNT(*) FROM cycle)")
                                    .mapTo(Long.class)
                                    .one();
                    if (rows > 0 && !demonstration(handle)) {
                        throw new DatabaseTrouble(
                                "a database with washes in it cannot become a demonstration;"
                                        + " start the demonstration with an empty data folder");
                    }
                    setFact(handle, DEMONSTRATION, "true");
                });
    }

    private static boolean demonstration(Handle handle) {
        return handle.createQuery("SELECT value FROM database_fact WHERE name = :name")
                .bind("name", DEMONSTRATION)
                .mapTo(String.class)
                .findOne()
                .map(Boolean::parseBoolean)
                .orElse(false);
    }

    /** A fact about this database, such as an id that must outlive the process. */
    public Optional<String> fact(String name) {
        return read(
                handle ->
                        handle.createQuery("SELECT value FROM database_fact WHERE name = :name")
                                .bind("name", name)
                                .mapTo(String.class)
                                .findOne());
    }

    /**
     * As {@link #fact(String)}; where there is none yet, this becomes one. Several that ask at once, of one
     * database, are told the same.
     */
    public String factOr(String name, String first) {
        append(
                handle ->
                        handle.createUpdate(
                                        """
                                        INSERT INTO database_fact (name, value) VALUES (:name, :value)
                                        ON CONFLICT (name) DO NOTHING""")
                                .bind("name", name)
                                .bind("value", first)
                                .execute());
        return fact(name).orElseThrow();
    }

    public static void setFact(Handle handle, String name, String value) {
        handle.createUpdate(
                        """
                        INSERT INTO database_fact (name, value) VALUES (:name, :value)
                        ON CONFLICT (name) DO UPDATE SET value = excluded.value""")
                .bind("name", name)
                .bind("value", value)
                .execute();
    }

    /** What the database takes on its disk, without SQLite's log of the latest changes. */
    public long size_bytes() {
        String question =
                sqlite
                        ? "SELECT page_count * page_size FROM pragma_page_count(), pragma_page_size()"
                        : "SELECT pg_database_size(current_database())";
        return read(handle -> handle.createQuery(question).mapTo(Long.class).one());
    }

    public boolean sqlite() {
        return sqlite;
    }

    /** Where the database is, without user and password. */
    String address() {
        return sqlite ? url : Postgres.forItsOwnPrograms(url);
    }

    @Override
    public void close() {
        pool.close();
    }
}
