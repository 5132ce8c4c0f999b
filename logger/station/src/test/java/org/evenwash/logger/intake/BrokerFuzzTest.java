package org.evenwash.logger.intake;

import static java.util.concurrent.TimeUnit.SECONDS;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.nio.file.Path;
import java.util.HashSet;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import org.evenwash.logger.Mutations;
import org.evenwash.logger.Station;
import org.evenwash.logger.StationConfig;
import org.evenwash.logger.wash.By;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Messages;
import org.evenwash.record.Receipt;
import org.evenwash.record.Topics;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Mutated payloads through the embedded broker and the running intake: a hundredth of those of {@link
 * PayloadFuzzTest}. Each is stored or set aside as its reading says, and the next good one gets through.
 */
@Tag("fuzz")
class BrokerFuzzTest {
    private static final int FULL_SIZE = 10_000;
    private static final long SEED = 61_127;
    private static final int MOST_B = 1_000_000;
    private static final String BENCH = "bench-1";

    @TempDir Path folder;

    @Test
    void payloadsOfABench_endWhereTheirReadingSays() throws Exception {
        int size = FULL_SIZE * Integer.getInteger("evenwash.fuzz.percent", 1) / 100;
        Set<UUID> good = new HashSet<>();
        Set<String> bad = new HashSet<>();
        try (Station station = Station.start(StationConfig.inFolder(folder.resolve("data")))) {
            await("line").atMost(60, SECONDS).until(station::isConnected);
            String password =
                    station.workplace().benches().admit(BENCH, "Bench", true, By.nobody());
            try (PlainBench bench = new PlainBench(station.brokerAddress(), BENCH, password)) {
                UUID outbox = UUID.randomUUID();
                for (int i = 0; i < size; i++) {
                    Random random = new Random(SEED + i);
                    UUID id = new UUID(random.nextLong(), random.nextLong());
                    CycleRecord valid = Samples.cycle(BENCH, id, outbox, i + 1);
                    byte[] bytes = Mutations.of(Messages.write(valid), random);
                    if (bytes.length > MOST_B) {
                        continue; // the broker hangs up on these, as it should
                    }
                    String topic = Topics.of(BENCH, Topics.Kind.CYCLE);
                    Reading reading = Reader.read(topic, new Payload(bytes));
                    if (reading instanceof Reading.Cycle cycle) {
                        good.add(cycle.record().cycleId());
                    } else {
                        bad.add(Messages.sha256(bytes));
                    }
                    bench.say(topic, bytes, false);
                }
                CycleRecord last = Samples.cycle(BENCH, UUID.randomUUID(), outbox, size + 1);
                bench.say(Topics.Kind.CYCLE, last);
                good.add(last.cycleId());
                assertThat(bench.receiptFor(last.cycleId(), 1).result())
                        .isEqualTo(Receipt.Result.STORED);
            }
            assertThat(rows(station, "SELECT COUNT(*) FROM cycle")).isEqualTo(good.size());
            assertThat(rows(station, "SELECT COUNT(*) FROM set_aside")).isEqualTo(bad.size());
            System.out.printf(
                    "broker fuzz: %d payloads from seed %d, %d stored, %d set aside%n",
                    size, SEED, good.size() - 1, bad.size());
        }
    }

    private static long rows(Station station, String sql) {
        return station.database().read(h -> h.createQuery(sql).mapTo(Long.class).one());
    }
}
