package org.evenwash.logger.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.UUID;
import org.evenwash.logger.TestDatabase;
import org.evenwash.logger.store.OutboxNumbers.Claim;
import org.evenwash.logger.store.OutboxNumbers.Gap;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What is missing is the same whether it was followed all along or counted anew. */
class MissingNumbersTest {
    private final UUID outbox = UUID.randomUUID();
    private final MissingNumbers followed = new MissingNumbers();
    private Database database;

    @BeforeEach
    void open(@TempDir Path folder) {
        database = Database.open(TestDatabase.in(folder, "numbers"));
    }

    @AfterEach
    void close() {
        database.close();
    }

    private void come(String bench, long... numbers) {
        List<Claim> claims = new ArrayList<>();
        for (long number : numbers) {
            claims.add(new Claim(bench, outbox, number, UUID.randomUUID()));
        }
        database.change(handle -> OutboxNumbers.note(handle, claims));
    }

    private List<Gap> missing() {
        return database.read(handle -> followed.of(handle, outbox));
    }

    @Test
    void nothingYet_isNothingMissing() {
        assertThat(missing()).isEmpty();
        come("b", 3);
        assertThat(missing()).containsExactly(new Gap("b", outbox, 1, 2));
    }

    @Test
    void numbersInAnyOrder_areFollowedAsIfCountedAnew() {
        SplittableRandom random = new SplittableRandom(11);
        for (int i = 0; i < 300; i++) {
            // Mostly near the end, sometimes long ago, some of them twice.
            long near = 1L + i / 2 + random.nextInt(8);
            come("b", random.nextInt(5) == 0 ? 1 + random.nextLong(near) : near);
            if (random.nextInt(4) == 0) {
                assertThat(missing()).isEqualTo(database.read(OutboxNumbers::gaps));
            }
        }
        assertThat(missing()).isNotEmpty().isEqualTo(database.read(OutboxNumbers::gaps));
    }

    @Test
    void moreGapsThanAreKept_comeInTheirTurn() {
        int gaps = MissingNumbers.MOST_GAPS + 5;
        for (int i = 1; i <= gaps; i++) {
            come("b", 2L * i);
        }
        assertThat(missing()).hasSize(MissingNumbers.MOST_GAPS);
        for (int i = 0; i < 10; i++) {
            come("b", 2L * i + 1);
        }
        missing();
        assertThat(missing()).isEqualTo(database.read(OutboxNumbers::gaps)).hasSize(gaps - 10);
    }

    @Test
    void outboxesOfABench_areFound_alsoOnACopiedCard() {
        come("first", 1, 2);
        UUID other = UUID.randomUUID();
        database.change(
                handle -> OutboxNumbers.note(handle, "second", other, 1, UUID.randomUUID()));
        assertThat(outboxes("first")).containsExactly(outbox);
        assertThat(outboxes("second")).containsExactly(other);
        assertThat(outboxes("nobody")).isEmpty();

        come("second", 3);
        assertThat(outboxes("second")).containsExactlyInAnyOrder(outbox, other);
        come("third", 2); // claimed before
        come("first", 4);
        assertThat(outboxes("third")).containsExactly(outbox);
        assertThat(outboxes("first")).containsExactly(outbox);
    }

    private List<UUID> outboxes(String bench) {
        return database.read(handle -> OutboxNumbers.outboxes(handle, bench));
    }
}
