package org.evenwash.logger.intake;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.evenwash.logger.TestDatabase;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.OutboxNumbers;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.SetAsides;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/**
 * Two logger processes share the intake of one Mosquitto into one PostgreSQL; one is killed in
 * mid-stream. Most of the time it waits until the broker has given up that one's session.
 */
@Execution(ExecutionMode.CONCURRENT)
class TwoLoggersIT {
    private static final int RECORDS = Integer.getInteger("evenwash.loggers.records", 20_000);

    /** A machine that other work keeps busy gets through, only later. */
    private static final Duration PATIENCE = Duration.ofMinutes(3);

    @TempDir Path folder;

    @Test
    void oneOfTwoKilled_everyRecordOfFiftyBenchesIsThereOnce() throws Exception {
        String url = TestDatabase.emptyPostgresql();
        try (Mosquitto broker = Mosquitto.savingSeldom(folder.resolve("mosquitto"));
                ChildStation doomed = logger("doomed", broker, url);
                ChildStation survivor = logger("survivor", broker, url);
                Fleet benches =
                        new Fleet(broker.address(), Backlog.benches(), RECORDS / Backlog.BENCHES)) {
            assertThat(survivor).isNotNull();
            long start = System.nanoTime();
            assertThat(benches.work(RECORDS / 2, PATIENCE)).as("receipts go on coming").isTrue();
            long killed = System.nanoTime();
            int untilThen = benches.released();
            doomed.kill();
            assertThat(benches.work(RECORDS, PATIENCE)).as("receipts go on coming").isTrue();
            long end = System.nanoTime();
            System.out.printf(
                    "%d records of 50 benches: %.0f/s with two loggers, %.0f/s in all after the kill;"
                            + " offered %d times, %d receipts said duplicate%n",
                    RECORDS,
                    untilThen / ((killed - start) / 1e9),
                    (RECORDS - untilThen) / ((end - killed) / 1e9),
                    benches.offers(),
                    benches.duplicates());
        }
        everyRecordIsThereOnce(url);
    }

    private ChildStation logger(String name, Mosquitto broker, String url) throws Exception {
        return new ChildStation(
                        folder.resolve(name),
                        "--broker",
                        broker.address().toString(),
                        "--database",
                        url,
                        "--group",
                        "yard")
                .connected();
    }

    private static void everyRecordIsThereOnce(String url) {
        try (Database database = Database.open(url)) {
            long stored =
                    database.read(
                            handle ->
                                    handle.createQuery("SELECT COUNT(*) FROM cycle")
                                            .mapTo(Long.class)
                                            .one());
            assertThat(stored).isEqualTo(RECORDS);
            List<OutboxNumbers.Gap> missing = database.read(handle -> OutboxNumbers.gaps(handle));
            assertThat(missing).isEmpty();
            List<OutboxNumbers.Clash> twice =
                    database.read(handle -> OutboxNumbers.clashes(handle, null));
            assertThat(twice).isEmpty();
            assertThat(database.read(handle -> SetAsides.list(handle, Page.first(10))).rows())
                    .isEmpty();
            for (String bench : Backlog.benches()) {
                long highest =
                        database.read(
                                handle ->
                                        handle.createQuery(
                                                        """
                                                        SELECT MAX(sequence) FROM outbox_number
                                                        WHERE bench_id = :bench""")
                                                .bind("bench", bench)
                                                .mapTo(Long.class)
                                                .one());
                assertThat(highest).as(bench).isEqualTo(RECORDS / Backlog.BENCHES);
            }
        }
    }
}
