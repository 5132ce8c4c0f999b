package org.evenwash.logger.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.TimeUnit;
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
}
