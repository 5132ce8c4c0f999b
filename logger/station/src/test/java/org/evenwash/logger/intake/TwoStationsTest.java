package org.evenwash.logger.intake;

import static java.util.concurrent.TimeUnit.SECONDS;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.Station;
import org.evenwash.logger.StationConfig;
import org.evenwash.logger.TestDatabase;
import org.evenwash.logger.store.CycleLine;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.StoredTicket;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.NewWash;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.BenchState;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.LiveReading;
import org.evenwash.record.Pass;
import org.evenwash.record.Receipt;
import org.evenwash.record.Topics;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;

/** Two stations of one group: one Mosquitto, one PostgreSQL, and nothing else between them. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class TwoStationsTest {
    private final UUID outbox = UUID.randomUUID();
    private Mosquitto broker;
    private Station one;
    private Station other;

    @BeforeAll
    void start(@TempDir Path folder) throws Exception {
        broker = new Mosquitto(folder.resolve("mosquitto"));
        String database = TestDatabase.emptyPostgresql();
        one = station(folder.resolve("one"), database);
        other = station(folder.resolve("other"), database);
    }

    private Station station(Path data, String database) {
        Station station =
                Station.start(
                        StationConfig.inFolder(data)
                                .withBroker(broker.address(), null, null)
                                .withDatabase(database)
                                .inGroup("yard"));
        await("line").atMost(60, SECONDS).until(station::isConnected);
        return station;
    }

    @AfterAll
    void stop() {
        one.close();
        other.close();
        broker.close();
    }

    @Test
    void eachRecordGoesToOneOfThem_andIsStoredOnce() throws Exception {
        long before = one.committed() + other.committed();
        List<UUID> cycles = new ArrayList<>();
        try (PlainBench bench = new PlainBench(broker.address(), "shared", null)) {
            for (int sequence = 1; sequence <= 40; sequence++) {
                cycles.add(UUID.randomUUID());
                bench.say(
                        Topics.Kind.CYCLE,
                        Samples.cycle("shared", cycles.get(sequence - 1), outbox, sequence));
            }
            for (UUID cycle : cycles) {
                assertThat(bench.receiptFor(cycle, 1).result()).isEqualTo(Receipt.Result.STORED);
            }
        }
        assertThat(one.workplace().cycles().list("shared", Page.first(500)).rows())
                .extracting(CycleLine::id)
                .containsExactlyInAnyOrderElementsOf(cycles);
        assertThat(one.committed() + other.committed() - before).isEqualTo(40);
        assertThat(one.committed()).isPositive();
        assertThat(other.committed()).isPositive();
    }

    /** Two cards with one outbox: whichever station takes which record, one of the two is flagged. */
    @Test
    void sameNumberTwice_isFlaggedOnce_whoeverTakesIt() throws Exception {
        UUID copied = UUID.randomUUID();
        List<CycleRecord> all = new ArrayList<>();
        try (PlainBench bench = new PlainBench(broker.address(), "copied", null)) {
            for (int sequence = 1; sequence <= 20; sequence++) {
                for (int card = 0; card < 2; card++) {
                    all.add(Samples.cycle("copied", UUID.randomUUID(), copied, sequence));
                    bench.say(Topics.Kind.CYCLE, all.get(all.size() - 1));
                }
            }
            all.forEach(cycle -> bench.receiptFor(cycle.cycleId(), 1));
        }
        assertThat(one.workplace().cycles().list("copied", Page.first(500)).rows())
                .hasSize(40)
                .filteredOn(CycleLine::sequenceClash)
                .hasSize(20);
        assertThat(other.workplace().benches().usedTwice("copied"))
                .filteredOn(clash -> clash.outboxId().equals(copied))
                .hasSize(20)
                .allMatch(clash -> clash.messages() == 2);
    }

    @Test
    void statesAndReadingsReachThePagesOfBoth() throws Exception {
        LiveReading live =
                new LiveReading(
                        LiveReading.SCHEMA,
                        "watched",
                        UUID.randomUUID(),
                        BenchState.State.RUNNING,
                        "AGITATE",
                        1,
                        3,
                        10,
                        110,
                        30,
                        150,
                        149.5,
                        20.0,
                        12.1);
        try (PlainBench bench = new PlainBench(broker.address(), "watched", null)) {
            bench.say(Topics.Kind.STATE, Samples.online("watched", List.of(), null));
            bench.say(Topics.Kind.LIVE, live);
            for (Station station : List.of(one, other)) {
                await().atMost(20, SECONDS)
                        .until(() -> station.board().traceOf("watched").isPresent());
                assertThat(station.board().of("watched").orElseThrow().live()).isEqualTo(live);
            }
        }
    }

    @Test
    void ticketIssuedAtOne_isAnsweredWhoeverHearsIt_andSentAgainToABenchThatComesBack()
            throws Exception {
        try (PlainBench bench = new PlainBench(broker.address(), "ticketed", null)) {
            bench.say(Topics.Kind.STATE, Samples.online("ticketed", List.of(), null));
            await().atMost(20, SECONDS)
                    .until(
                            () ->
                                    one.workplace().benches().benches().stream()
                                            .anyMatch(known -> known.id().equals("ticketed")));
            StoredTicket ticket = issue();
            BenchEvent accepted =
                    Samples.event(
                            "ticketed",
                            UUID.randomUUID(),
                            1,
                            BenchEvent.Kind.TICKET_ACCEPTED,
                            ticket.id());
            bench.say(Topics.Kind.EVENT, accepted);
            bench.receiptFor(accepted.eventId(), 1);

            for (Station station : List.of(one, other)) {
                assertThat(station.workplace().tickets().ticket(ticket.id()).standing())
                        .isEqualTo(StoredTicket.Standing.ACCEPTED);
            }
            bench.tickets.clear();
            bench.say(Topics.Kind.STATE, Samples.online("ticketed", List.of(), null));
            // Each of the two sends it: a ticket names itself, so the second changes nothing.
            await().atMost(20, SECONDS).until(() -> bench.tickets.size() == 2);
            assertThat(bench.tickets).allMatch(again -> again.ticketId().equals(ticket.id()));
        }
    }

    private StoredTicket issue() {
        var work = one.workplace();
        var apiary =
                work.yard().addApiary("Two", "Europe/Vienna", Hemisphere.NORTHERN, By.nobody());
        var colony = work.yard().addColony(apiary.id(), "H1", By.nobody());
        var wash = work.washes().plan(NewWash.today(colony.id(), null), By.nobody());
        work.recipes().add(Samples.RECIPE, null, By.nobody());
        return work.tickets()
                .issue(wash.id(), Pass.FIRST, "ticketed", 1, "one-bout", 1, By.nobody());
    }
}
