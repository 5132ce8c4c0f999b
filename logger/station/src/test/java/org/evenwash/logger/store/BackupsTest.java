package org.evenwash.logger.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.File;
import java.io.IOException;
import java.io.RandomAccessFile;
import java.io.UncheckedIOException;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicReference;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class BackupsTest {
    @TempDir Path folder;

    private static Operator operator(String name) {
        return new Operator(UUID.randomUUID(), name, true, Instant.EPOCH);
    }

    /** Each write makes a pair; a backup never holds half of one, and nobody is kept from writing. */
    @Test
    void backupWhileOthersWrite_isOneMomentOfTheDatabase() throws InterruptedException {
        AtomicInteger written = new AtomicInteger();
        AtomicReference<RuntimeException> trouble = new AtomicReference<>();
        try (Database database = Database.open("jdbc:sqlite:" + folder.resolve("busy.db"))) {
            Thread writer =
                    new Thread(
                            () -> {
                                while (!Thread.currentThread().isInterrupted()) {
                                    try {
                                        pair(database, written.getAndIncrement());
                                    } catch (RuntimeException e) {
                                        trouble.set(e);
                                        return;
                                    }
                                }
                            },
                            "writer");
            writer.start();
            for (int i = 1; i <= 3; i++) {
                int before = written.get();
                Awaitility.await()
                        .atMost(30, TimeUnit.SECONDS)
                        .until(() -> trouble.get() != null || written.get() > before + 20);
                Path file = folder.resolve("backup-" + i + ".db");
                Backups.write(database, file);
                int pairs = pairsIn(file);
                assertThat(pairs).isGreaterThanOrEqualTo(before);
            }
            writer.interrupt();
            writer.join(30_000);
            assertThat(writer.isAlive()).isFalse();
        }
        assertThat(Optional.ofNullable(trouble.get())).isEmpty();
        Path restored = folder.resolve("restored.db");
        Backups.restore(folder.resolve("backup-3.db"), restored);
        assertThat(pairsIn(restored)).isEqualTo(pairsIn(folder.resolve("backup-3.db")));
    }

    private static void pair(Database database, int number) {
        database.change(
                handle -> {
                    Operators.insert(handle, operator("first of " + number));
                    Operators.insert(handle, operator("second of " + number));
                });
    }

    private static int pairsIn(Path file) {
        try (Database copy = Database.open("jdbc:sqlite:" + file)) {
            long firsts = count(copy, "first of ");
            assertThat(count(copy, "second of ")).isEqualTo(firsts);
            return (int) firsts;
        }
    }

    private static long count(Database copy, String start) {
        return copy.read(Operators::all).stream()
                .filter(one -> one.name().startsWith(start))
                .count();
    }

    private Path databaseOf(String name, int operators) {
        Path file = folder.resolve(name);
        try (Database database = Database.open("jdbc:sqlite:" + file)) {
            add(database, name, operators);
        }
        return file;
    }

    private static void add(Database database, String name, int operators) {
        database.change(
                handle -> {
                    for (int i = 0; i < operators; i++) {
                        Operators.insert(handle, operator(name + " " + i));
                    }
                });
    }

    private Path backupOf(Path file) {
        Path backup = folder.resolve(file.getFileName() + ".backup");
        try (Database database = Database.open("jdbc:sqlite:" + file)) {
            Backups.write(database, backup);
        }
        return backup;
    }

    private static List<String> namesIn(Path file) {
        try (Database database = Database.open("jdbc:sqlite:" + file)) {
            return database.read(Operators::all).stream().map(Operator::name).toList();
        }
    }

    private List<String> files() throws IOException {
        try (var files = Files.list(folder)) {
            return files.map(Path::getFileName).map(Path::toString).sorted().toList();
        }
    }

    /** As after a disk that ran full or a kill: what is there under the final name is whole, or nothing. */
    @Test
    void backupThatCannotBeFinished_leavesNothing() throws Exception {
        Path file = databaseOf("torn.db", 10_000);
        try (Database database = Database.open("jdbc:sqlite:" + file)) {
            Path backup = folder.resolve("torn.backup");
            database.read(
                    handle -> {
                        tear(file);
                        // By another connection, one that has no page in memory yet.
                        assertThatThrownBy(
                                        CompletableFuture.runAsync(
                                                        () -> Backups.write(database, backup))
                                                ::join)
                                .cause()
                                .isInstanceOf(DatabaseTrouble.class)
                                .hasMessageStartingWith(
                                        "the backup cannot be written to " + backup);
                        return null;
                    });
        }
        assertThat(files()).containsExactly("torn.db");
    }

    private static void tear(Path database) {
        try (RandomAccessFile file = new RandomAccessFile(database.toFile(), "rw")) {
            for (long page = file.length() / 4096 * 3 / 4; page < file.length() / 4096; page++) {
                file.seek(page * 4096);
                file.write(new byte[512]);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Test
    void whatAnEarlierBackupLeft_isInNobodysWay() throws Exception {
        Path file = databaseOf("one.db", 3);
        Files.writeString(folder.resolve("one.db.backup.part"), "half");
        Files.writeString(folder.resolve("one.db.backup.part-journal"), "half");

        Path backup = backupOf(file);

        assertThat(namesIn(backup)).hasSize(3);
        assertThat(files()).containsExactly("one.db", "one.db.backup");
    }

    @Test
    void secondBackupAtOnce_toTheSameName_isRefused() throws Exception {
        Path file = databaseOf("one.db", 3);
        try (FileChannel first =
                FileChannel.open(
                        folder.resolve("one.db.backup.part-lock"),
                        StandardOpenOption.CREATE,
                        StandardOpenOption.WRITE)) {
            first.lock();
            assertThatThrownBy(() -> backupOf(file))
                    .hasMessageEndingWith(
                            "one.db.backup; wait until it is done, or name another file");
        }
        assertThat(namesIn(backupOf(file))).hasSize(3);
        assertThat(files()).containsExactly("one.db", "one.db.backup");
    }

    @Test
    void folderThatIsNotThere_isToldSo() {
        try (Database database = Database.open("jdbc:sqlite:" + folder.resolve("one.db"))) {
            assertThatThrownBy(
                            () -> Backups.write(database, folder.resolve("nowhere/monday.backup")))
                    .hasMessageEndingWith(
                            "its folder is missing or may not be written; let this user write"
                                    + " there");
        }
    }

    @Test
    void backupAndWhatIsRestored_areForTheirOwnerAlone() throws Exception {
        assumeTrue(folder.getFileSystem().supportedFileAttributeViews().contains("posix"));
        Path backup = backupOf(databaseOf("one.db", 1));
        Path restored = folder.resolve("restored.db");

        Backups.restore(backup, restored);

        for (Path file : new Path[] {backup, restored}) {
            assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(file)))
                    .isEqualTo("rw-------");
        }
    }

    @Test
    void fileThatIsNoFinishedBackup_isRefused_andTheDatabaseStays() throws Exception {
        Path database = databaseOf("precious.db", 3);
        Path whole = backupOf(databaseOf("other.db", 500));
        Path empty = Files.createFile(folder.resolve("empty"));
        Path half = folder.resolve("half");
        Files.write(half, Arrays.copyOf(Files.readAllBytes(whole), 40 * 4096));
        Path letter = Files.writeString(folder.resolve("letter"), "x".repeat(10_000));
        List<String> before = files();

        for (Path no : new Path[] {empty, letter}) {
            assertThatThrownBy(() -> Backups.restore(no, database))
                    .hasMessage(no + " is no finished backup of this program");
        }
        assertThatThrownBy(() -> Backups.restore(half, database))
                .hasMessageStartingWith(half + " is of no use: the database file is damaged");

        assertThat(files()).isEqualTo(before);
        assertThat(namesIn(database)).hasSize(3);
    }

    /** A database that nobody closed, as after a kill: its latest rows are beside it only. */
    private Path killed(String name, int operators) throws IOException {
        Path away = Files.createDirectory(folder.resolve("away of " + name));
        Path running = away.resolve("running.db");
        Path file = folder.resolve(name);
        try (Database database = Database.open("jdbc:sqlite:" + running)) {
            add(database, name, operators);
            Files.copy(running, file);
            Files.copy(Path.of(running + "-wal"), Path.of(file + "-wal"));
        }
        return file;
    }

    @Test
    void changesLeftBesideAMissingDatabase_areNotTakenForThoseOfTheRestoredOne() throws Exception {
        Path backup = backupOf(databaseOf("b.db", 5));
        Path database = killed("station.db", 50);
        Files.delete(database);

        assertThat(Backups.restore(backup, database)).isEmpty();

        assertThat(namesIn(database)).hasSize(5).allMatch(name -> name.startsWith("b.db"));
    }

    @Test
    void changesLeftByAnInterruptedRestore_areNotTakenForThoseOfTheNext() throws Exception {
        Path backup = backupOf(databaseOf("b.db", 5));
        Path incoming = killed("station.db.incoming", 50);
        assertThat(Path.of(incoming + "-wal")).exists();

        Backups.restore(backup, folder.resolve("station.db"));

        assertThat(namesIn(folder.resolve("station.db")))
                .hasSize(5)
                .allMatch(name -> name.startsWith("b.db"));
        assertThat(files()).noneMatch(name -> name.startsWith("station.db.incoming"));
    }

    @Test
    void databaseThatWasReplaced_isKeptWithItsLatestChanges_andComesBack() throws Exception {
        Path backup = backupOf(databaseOf("b.db", 5));
        Path database = killed("station.db", 50);

        Path kept = Backups.restore(backup, database).orElseThrow();
        assertThat(namesIn(database)).hasSize(5);
        Path again = Backups.restore(kept, database).orElseThrow();

        assertThat(namesIn(database)).hasSize(50);
        assertThat(again).isNotEqualTo(kept);
        assertThat(namesIn(again)).hasSize(5);
    }

    @Test
    void backupWithItsLatestChangesBesideIt_isRestoredWithThem() throws Exception {
        Path database = databaseOf("station.db", 5);

        Backups.restore(killed("kept.db", 50), database);

        assertThat(namesIn(database)).hasSize(50);
    }

    @Test
    void damagedDatabase_isReplaced_andKeptAsItWas() throws Exception {
        Path backup = backupOf(databaseOf("b.db", 5));
        Path database = folder.resolve("station.db");
        Files.writeString(database, "x".repeat(10_000));

        Path kept = Backups.restore(backup, database).orElseThrow();

        assertThat(namesIn(database)).hasSize(5);
        assertThat(kept).hasContent("x".repeat(10_000));
    }

    /** Looked at without a pause: a kill at any moment of a restore leaves a database. */
    @Test
    void databaseIsThereThroughout() throws Exception {
        Path backup = backupOf(databaseOf("b.db", 5));
        Path database = databaseOf("station.db", 3);
        AtomicBoolean missing = new AtomicBoolean();
        AtomicBoolean done = new AtomicBoolean();
        File looked = database.toFile();
        Thread looking =
                new Thread(
                        () -> {
                            while (!done.get()) {
                                if (!looked.exists()) {
                                    missing.set(true);
                                }
                            }
                        },
                        "looking");
        looking.start();
        for (int i = 0; i < 10; i++) {
            Backups.restore(backup, database);
        }
        done.set(true);
        looking.join(30_000);

        assertThat(missing).isFalse();
        assertThat(namesIn(database)).hasSize(5);
    }
}
