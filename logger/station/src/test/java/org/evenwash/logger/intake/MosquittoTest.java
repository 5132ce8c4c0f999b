package org.evenwash.logger.intake;

import static java.util.concurrent.TimeUnit.SECONDS;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Path;
import java.util.UUID;
import org.evenwash.logger.StationConfig;
import org.evenwash.logger.TestDatabase;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.SetAsides;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Messages;
import org.evenwash.record.Receipt;
import org.evenwash.record.Topics;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;

class MosquittoTest extends IntakeStories {
    private Mosquitto broker;

    @Override
    StationConfig config(Path data) throws IOException {
        if (broker == null) {
            broker = new Mosquitto(data.resolve("mosquitto"));
        }
        return StationConfig.inFolder(data.resolve("data"))
                .withDatabase(TestDatabase.in(data, "logger"))
                .withBroker(broker.address(), null, null);
    }

    @Override
    String password(String benchId) {
        return null;
    }

    @AfterAll
    void stopBroker() {
        broker.close();
    }

    /** A broker without topic rules lets a stranger name any; PostgreSQL's indexes take none so long. */
    @Test
    void topicLongerThanAnIndexTakes_isSetAside_andBlocksNothing() throws Exception {
        StringBuilder name = new StringBuilder();
        for (int i = 0; i < 200; i++) {
            name.append(UUID.randomUUID());
        }
        CycleRecord cycle = Samples.cycle(benchId, UUID.randomUUID(), outbox, 1);

        bench.say("evenwash/v1/" + name + "/cycle", Messages.write(cycle), false);
        bench.say(Topics.Kind.CYCLE, cycle);

        assertThat(bench.receiptFor(cycle.cycleId(), 1).result()).isEqualTo(Receipt.Result.STORED);
        assertThat(
                        station.database()
                                .read(handle -> SetAsides.list(handle, Page.first(500)))
                                .rows())
                .filteredOn(row -> row.topic().startsWith("evenwash/v1/" + name.substring(0, 300)))
                .hasSize(1);
    }

    @Test
    void recordsSentWhileTheStationIsAway_comeWhenItIsBack() throws Exception {
        station.close();
        for (long sequence = 1; sequence <= 250; sequence++) {
            bench.say(
                    Topics.Kind.CYCLE, Samples.cycle(benchId, UUID.randomUUID(), outbox, sequence));
        }
        start();

        await().atMost(30, SECONDS).until(() -> cycles().size() == 250);
        assertThat(work.benches().missing(benchId)).isEmpty();
    }

    @Test
    void brokerKilledAndRestarted_theLineComesBackByItself() throws Exception {
        broker.kill();
        await().atMost(20, SECONDS).until(() -> !station.isConnected());
        broker.start();
        await().atMost(30, SECONDS).until(station::isConnected);
        bench.close();
        bench = new PlainBench(broker.address(), benchId, null);

        CycleRecord cycle = Samples.cycle(benchId, UUID.randomUUID(), outbox, 1);
        bench.say(Topics.Kind.CYCLE, cycle);

        assertThat(bench.receiptFor(cycle.cycleId(), 1).result()).isEqualTo(Receipt.Result.STORED);
    }
}
