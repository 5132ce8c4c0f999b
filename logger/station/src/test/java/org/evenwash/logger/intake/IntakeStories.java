package org.evenwash.logger.intake;

import static java.util.concurrent.TimeUnit.SECONDS;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;
import static org.awaitility.Awaitility.await;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Clock;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import org.evenwash.logger.Station;
import org.evenwash.logger.StationConfig;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.CycleLine;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.store.OutboxNumbers.Gap;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.SetAside;
import org.evenwash.logger.store.SetAsides;
import org.evenwash.logger.store.StoredTicket;
import org.evenwash.logger.store.UnassignedCycle;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.NewWash;
import org.evenwash.logger.wash.PassSheet;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.BenchState;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.LiveReading;
import org.evenwash.record.Message;
import org.evenwash.record.Messages;
import org.evenwash.record.Pass;
import org.evenwash.record.Position;
import org.evenwash.record.Receipt;
import org.evenwash.record.Ticket;
import org.evenwash.record.Topics;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;

/**
 * What must hold with any broker; run with the embedded one and with Mosquitto. One station serves all
 * stories of a class, each with a bench of its own.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
abstract class IntakeStories {
    Path folder;
    Station station;
    Workplace work;
    PlainBench bench;
    String benchId;
    UUID outbox;
    private int benches;

    abstract StationConfig config(Path folder) throws Exception;

    abstract String password(String benchId);

    @BeforeAll
    void startIn(@TempDir Path temporary) throws Exception {
        folder = temporary;
        start();
    }

    void start() throws Exception {
        station = Station.start(config(folder));
        work = station.workplace();
        await("line").atMost(20, SECONDS).until(station::isConnected);
    }

    @BeforeEach
    void newBench() throws Exception {
        benchId = "bench-" + ++benches;
        outbox = UUID.randomUUID();
        bench = new PlainBench(station.brokerAddress(), benchId, password(benchId));
    }

    @AfterEach
    void noBench() throws Exception {
        bench.close();
    }

    @AfterAll
    void stop() {
        station.close();
    }

    List<CycleLine> cycles() {
        return work.cycles().list(benchId, Page.first(500)).rows();
    }

    List<SetAside> setAside() {
        return station
                .database()
                .read(handle -> SetAsides.list(handle, Page.first(100)))
                .rows()
                .stream()
                .filter(row -> benchId.equals(row.benchId()))
                .toList();
    }

    List<UnassignedCycle> unassigned() {
        return work.cycles().unassigned(Page.first(500)).rows().stream()
                .filter(row -> benchId.equals(row.benchId()))
                .toList();
    }

    @Test
    void cycleSentTwice_isStoredOnce_andGetsTwoReceipts() throws Exception {
        CycleRecord cycle = Samples.cycle(benchId, UUID.randomUUID(), outbox, 1);

        bench.say(Topics.Kind.CYCLE, cycle);
        Receipt first = bench.receiptFor(cycle.cycleId(), 1);
        bench.say(Topics.Kind.CYCLE, cycle);
        Receipt second = bench.receiptFor(cycle.cycleId(), 2);

        assertThat(first.result()).isEqualTo(Receipt.Result.STORED);
        assertThat(first.sha256()).isEqualTo(Messages.sha256(Messages.write(cycle)));
        assertThat(second.result()).isEqualTo(Receipt.Result.DUPLICATE);
        assertThat(cycles()).hasSize(1);
        assertThat(work.cycles().record(cycle.cycleId())).isEqualTo(cycle);
        assertThat(unassigned()).hasSize(1);
    }

    /** From a bench that is a minor version ahead, with a field that this logger does not know. */
    @Test
    void laterMinorVersion_isStored_andWhatIsNewInItIsKept() throws Exception {
        CycleRecord cycle = Samples.cycle(benchId, UUID.randomUUID(), outbox, 1);
        BenchEvent event =
                Samples.event(
                        benchId, outbox, 2, BenchEvent.Kind.TICKET_REFUSED, UUID.randomUUID());

        for (Message message : List.of(cycle, event)) {
            String later =
                    new String(Messages.write(message), StandardCharsets.UTF_8)
                            .replaceFirst(
                                    "(\"schema\":\"[a-z]+/1\\.)[0-9]+\"", "$17\",\"ripeness\":42");
            assertThat(later).contains("/1.7\",\"ripeness\":42");
            Topics.Kind kind = message == cycle ? Topics.Kind.CYCLE : Topics.Kind.EVENT;
            bench.say(Topics.of(benchId, kind), later.getBytes(StandardCharsets.UTF_8), false);
        }

        assertThat(bench.receiptFor(cycle.cycleId(), 1).result()).isEqualTo(Receipt.Result.STORED);
        assertThat(bench.receiptFor(event.eventId(), 1).result()).isEqualTo(Receipt.Result.STORED);
        assertThat(cycles()).extracting(CycleLine::id).containsExactly(cycle.cycleId());
        String kept =
                station.database()
                        .read(
                                handle ->
                                        handle.createQuery(
                                                        "SELECT record_json FROM cycle WHERE id = :id")
                                                .bind("id", cycle.cycleId())
                                                .mapTo(String.class)
                                                .one());
        assertThat(kept).contains("\"ripeness\":42");
    }

    @Test
    void sameIdWithOtherContent_isSetAside() throws Exception {
        UUID id = UUID.randomUUID();
        Position position = new Position(1, null, null, Pass.FIRST);
        bench.say(Topics.Kind.CYCLE, Samples.cycle(benchId, id, outbox, 1, position, 60));
        bench.receiptFor(id, 1);

        bench.say(Topics.Kind.CYCLE, Samples.cycle(benchId, id, outbox, 1, position, 59));

        Receipt receipt = bench.receiptFor(id, 2);
        assertThat(receipt.result()).isEqualTo(Receipt.Result.SET_ASIDE);
        assertThat(receipt.reason()).isEqualTo("has the id of a stored message but other content");
        assertThat(work.cycles().cycle(id).agitation_s()).isEqualTo(60);
        assertThat(setAside()).hasSize(1);
    }

    @Test
    void sameNumberWithAnotherId_isStoredAndFlagged() throws Exception {
        CycleRecord one = Samples.cycle(benchId, UUID.randomUUID(), outbox, 1);
        CycleRecord other = Samples.cycle(benchId, UUID.randomUUID(), outbox, 1);
        bench.say(Topics.Kind.CYCLE, one);
        bench.receiptFor(one.cycleId(), 1);
        bench.say(Topics.Kind.CYCLE, other);

        assertThat(bench.receiptFor(other.cycleId(), 1).result()).isEqualTo(Receipt.Result.STORED);
        assertThat(work.cycles().cycle(one.cycleId()).sequenceClash()).isFalse();
        assertThat(work.cycles().cycle(other.cycleId()).sequenceClash()).isTrue();
        assertThat(work.benches().usedTwice(benchId))
                .filteredOn(clash -> clash.outboxId().equals(outbox))
                .singleElement()
                .satisfies(clash -> assertThat(clash.messages()).isEqualTo(2));
    }

    @Test
    void whatCannotBeRead_isSetAsideWithTheReason_andBlocksNothing() throws Exception {
        String topic = Topics.of(benchId, Topics.Kind.CYCLE);
        CycleRecord good = Samples.cycle(benchId, UUID.randomUUID(), outbox, 1);
        String text = new String(Messages.write(good), StandardCharsets.UTF_8);
        UUID newer = UUID.randomUUID();
        UUID stranger = UUID.randomUUID();

        bench.say(topic, "{\"schema\":".getBytes(StandardCharsets.UTF_8), false);
        bench.say(topic, new byte[] {'{', '"', (byte) 0xC3, (byte) 0x28, '"', '}'}, false);
        bench.say(topic, new byte[Messages.MOST_BYTES + 1], false);
        bench.say(topic, new byte[0], false);
        bench.say(
                topic,
                text.replace("cycle/1.0", "cycle/2.0")
                        .replace(good.cycleId().toString(), newer.toString())
                        .getBytes(StandardCharsets.UTF_8),
                false);
        bench.say(topic, Messages.write(Samples.cycle("stranger", stranger, outbox, 2)), false);
        bench.say(Topics.Kind.CYCLE, good);

        assertThat(bench.receiptFor(good.cycleId(), 1).result()).isEqualTo(Receipt.Result.STORED);
        assertThat(bench.receiptFor(newer, 1).reason())
                .contains("schema is major version 2, only 1 is known here");
        assertThat(bench.receiptFor(stranger, 1).reason())
                .isEqualTo("benchId reads 'stranger' on the topic of bench '" + benchId + "'");
        assertThat(setAside())
                .extracting(SetAside::reason)
                .anyMatch(reason -> reason.startsWith("payload is not JSON"))
                .contains("payload is not UTF-8")
                .contains("payload has 262145 bytes, at most 262144 are read")
                .hasSize(6);
        assertThat(cycles()).hasSize(1);
    }

    /** SQLite would keep it, PostgreSQL cannot: both set it aside, and go on. */
    @Test
    void textWithAZero_isSetAsideWithTheReason_andBlocksNothing() throws Exception {
        BenchEvent event =
                Samples.event(benchId, outbox, 1, BenchEvent.Kind.BOOTED, UUID.randomUUID());
        String text = new String(Messages.write(event), StandardCharsets.UTF_8);
        CycleRecord good = Samples.cycle(benchId, UUID.randomUUID(), outbox, 2);

        bench.say(
                Topics.of(benchId, Topics.Kind.EVENT),
                text.replace("is above", "is\\u0000above").getBytes(StandardCharsets.UTF_8),
                false);
        bench.say(Topics.Kind.CYCLE, good);

        Receipt receipt = bench.receiptFor(event.eventId(), 1);
        assertThat(receipt.result()).isEqualTo(Receipt.Result.SET_ASIDE);
        assertThat(receipt.reason())
                .isEqualTo("text holds the character U+0000, which no text may");
        assertThat(setAside()).extracting(SetAside::reason).containsExactly(receipt.reason());
        assertThat(bench.receiptFor(good.cycleId(), 1).result()).isEqualTo(Receipt.Result.STORED);
    }

    @Test
    void setAsideMessage_canBeTriedAgain() throws Exception {
        bench.say(
                Topics.of(benchId, Topics.Kind.CYCLE),
                "no JSON".getBytes(StandardCharsets.UTF_8),
                false);
        await().atMost(20, SECONDS).until(() -> setAside().size() == 1);

        Replay replay = new Replay(station.database(), Clock.systemUTC());

        assertThat(replay.again(setAside().get(0).id()).orElseThrow())
                .startsWith("set aside again: payload is not JSON");
        assertThat(replay.again(UUID.randomUUID())).isEmpty();
        assertThat(setAside().get(0).replayResult()).startsWith("set aside again");
    }

    @Test
    void missingNumbers_areShown_andAskedForWhenTheBenchComesBack() throws Exception {
        for (long sequence : new long[] {2, 3, 6}) {
            CycleRecord cycle = Samples.cycle(benchId, UUID.randomUUID(), outbox, sequence);
            bench.say(Topics.Kind.CYCLE, cycle);
            bench.receiptFor(cycle.cycleId(), 1);
        }
        assertThat(work.benches().missing(benchId))
                .extracting(Gap::from, Gap::to)
                .containsExactly(tuple(1L, 1L), tuple(4L, 5L));

        // The bench has 10 rows behind it and still holds the last two: 7 and 8 were released and
        // lost.
        bench.say(
                Topics.Kind.STATE,
                Samples.online(benchId, List.of(), new BenchState.OutboxState(outbox, 2, 10)));

        await().atMost(20, SECONDS).until(() -> bench.commands.size() == 3);
        assertThat(bench.commands)
                .extracting(BenchCommand::resend)
                .containsExactlyInAnyOrder(
                        new BenchCommand.Resend(outbox, 1, 1),
                        new BenchCommand.Resend(outbox, 4, 5),
                        new BenchCommand.Resend(outbox, 7, 8));
    }

    /** As when a receipt from before a restore waited at the broker. */
    @Test
    void numbersReleasedAfterTheGreeting_areAskedForTooAndOnce() throws Exception {
        bench.say(
                Topics.Kind.STATE,
                Samples.online(benchId, List.of(), new BenchState.OutboxState(outbox, 2, 2)));
        CycleRecord cycle = Samples.cycle(benchId, UUID.randomUUID(), outbox, 3);
        bench.say(Topics.Kind.CYCLE, cycle);
        bench.receiptFor(cycle.cycleId(), 1);
        BenchState released =
                Samples.online(benchId, List.of(), new BenchState.OutboxState(outbox, 0, 3));
        bench.say(Topics.Kind.STATE, released);
        await().atMost(20, SECONDS).until(() -> bench.commands.size() == 1);
        bench.say(Topics.Kind.STATE, released);
        CycleRecord later = Samples.cycle(benchId, UUID.randomUUID(), outbox, 4);
        bench.say(Topics.Kind.CYCLE, later);
        bench.receiptFor(later.cycleId(), 1);
        assertThat(bench.commands)
                .extracting(BenchCommand::resend)
                .containsExactly(new BenchCommand.Resend(outbox, 1, 2));
    }

    private Wash planned() {
        var apiary =
                work.yard()
                        .addApiary(
                                "Apiary of " + benchId,
                                "Europe/Vienna",
                                Hemisphere.NORTHERN,
                                By.nobody());
        Colony colony = work.yard().addColony(apiary.id(), "H1", By.nobody());
        return work.washes().plan(NewWash.today(colony.id(), null), By.nobody());
    }

    private StoredTicket issued(Wash wash) {
        return issued(wash, 1);
    }

    private StoredTicket issued(Wash wash, int position) {
        work.recipes().add(Samples.RECIPE, null, By.nobody());
        return work.tickets()
                .issue(wash.id(), Pass.FIRST, benchId, position, "one-bout", 1, By.nobody());
    }

    private void knowBench() throws Exception {
        bench.say(Topics.Kind.STATE, Samples.online(benchId, List.of(), null));
        await().atMost(20, SECONDS)
                .until(
                        () ->
                                work.benches().benches().stream()
                                        .anyMatch(
                                                one ->
                                                        one.id().equals(benchId)
                                                                && one.lastSeenAt() != null));
    }

    @Test
    void ticketGoesToTheBench_andItsCycleComesBackToItsWash() throws Exception {
        knowBench();
        Wash wash = planned();
        StoredTicket ticket = issued(wash);
        await().atMost(20, SECONDS).until(() -> bench.tickets.size() == 1);
        Ticket loaded = bench.tickets.get(0);
        BenchEvent accepted =
                Samples.event(
                        benchId, outbox, 1, BenchEvent.Kind.TICKET_ACCEPTED, loaded.ticketId());
        bench.say(Topics.Kind.EVENT, accepted);
        bench.receiptFor(accepted.eventId(), 1);
        assertThat(work.tickets().ticket(ticket.id()).standing())
                .isEqualTo(StoredTicket.Standing.ACCEPTED);

        CycleRecord cycle = Samples.cycle(benchId, outbox, 2, loaded);
        bench.say(Topics.Kind.CYCLE, cycle);
        bench.receiptFor(cycle.cycleId(), 1);

        PassSheet pass = work.sheets().of(wash.id()).pass(Pass.FIRST).orElseThrow();
        assertThat(pass.cycles()).extracting(CycleLine::id).containsExactly(cycle.cycleId());
        assertThat(pass.agitation_s()).isEqualTo(60);
        assertThat(pass.soak().soak_s()).isEqualTo(42.5);
        assertThat(pass.conforms()).contains(true);
        assertThat(work.tickets().ticket(ticket.id()).standing())
                .isEqualTo(StoredTicket.Standing.RUN);
        assertThat(work.washes().wash(wash.id()).simulated()).isTrue();
        assertThat(unassigned()).isEmpty();
    }

    @Test
    void refusedTicket_keepsTheBenchsReason() throws Exception {
        knowBench();
        StoredTicket ticket = issued(planned());
        BenchEvent refused =
                Samples.event(benchId, outbox, 1, BenchEvent.Kind.TICKET_REFUSED, ticket.id());
        bench.say(Topics.Kind.EVENT, refused);
        bench.receiptFor(refused.eventId(), 1);

        StoredTicket now = work.tickets().ticket(ticket.id());
        assertThat(now.standing()).isEqualTo(StoredTicket.Standing.REFUSED);
        assertThat(now.reason()).isEqualTo("speed is above this bench's limit");
        assertThat(work.tickets().open(benchId)).isEmpty();
    }

    @Test
    void benchThatComesBack_getsOpenTickets_andThoseWithdrawnMeanwhile() throws Exception {
        knowBench();
        Wash wash = planned();
        StoredTicket withdrawn = issued(wash);
        work.tickets().withdraw(withdrawn.id(), By.nobody());
        StoredTicket open = issued(wash);
        await().atMost(20, SECONDS).until(() -> bench.tickets.size() == 3);
        bench.tickets.clear();

        bench.say(
                Topics.Kind.STATE,
                Samples.online(
                        benchId,
                        List.of(
                                new BenchState.LoadedTicket(
                                        1, withdrawn.id(), wash.id(), "H1", Pass.FIRST)),
                        null));

        await().atMost(20, SECONDS).until(() -> bench.tickets.size() == 2);
        assertThat(bench.tickets)
                .extracting(Ticket::ticketId, Ticket::action)
                .containsExactly(
                        tuple(open.id(), Ticket.Action.LOAD),
                        tuple(withdrawn.id(), Ticket.Action.WITHDRAW));
    }

    /** A byte that a worn card changed: whatever else the bench is told and sends goes its way. */
    @Test
    void damagedTickets_keepNothingElseFromTheBench_norFromTheDatabase() throws Exception {
        knowBench();
        Wash wash = planned();
        List<StoredTicket> damaged = List.of(issued(wash, 1), issued(wash, 2), issued(wash, 3));
        StoredTicket good = issued(wash, 4);
        damage("ticket_json", "{\"schema\":", damaged.get(0));
        damage("id", "no-id-any-more-" + benchId, damaged.get(1));
        work.tickets().withdraw(damaged.get(2).id(), By.nobody());
        damage("ticket_json", "{}", damaged.get(2));
        await().atMost(20, SECONDS).until(() -> bench.tickets.size() == 5);
        bench.tickets.clear();

        bench.say(
                Topics.Kind.STATE,
                Samples.online(
                        benchId,
                        List.of(
                                new BenchState.LoadedTicket(
                                        3, damaged.get(2).id(), wash.id(), "H1", Pass.FIRST)),
                        new BenchState.OutboxState(outbox, 1, 3)));
        CycleRecord cycle = Samples.cycle(benchId, UUID.randomUUID(), outbox, 3);
        bench.say(Topics.Kind.CYCLE, cycle);

        assertThat(bench.receiptFor(cycle.cycleId(), 1).result()).isEqualTo(Receipt.Result.STORED);
        await().atMost(20, SECONDS).until(() -> bench.commands.size() == 1);
        assertThat(bench.tickets).extracting(Ticket::ticketId).containsExactly(good.id());
    }

    private void damage(String column, String value, StoredTicket ticket) {
        station.database()
                .change(
                        handle ->
                                handle.createUpdate(
                                                "UPDATE ticket SET "
                                                        + column
                                                        + " = :value WHERE id = :id")
                                        .bind("value", value)
                                        .bind("id", ticket.id())
                                        .execute());
    }

    @Test
    void unassignedCycle_canBeTiedToAWashLater_andUntied() throws Exception {
        CycleRecord cycle = Samples.cycle(benchId, UUID.randomUUID(), outbox, 1);
        bench.say(Topics.Kind.CYCLE, cycle);
        bench.receiptFor(cycle.cycleId(), 1);
        Wash wash = planned();

        work.cycles().attach(cycle.cycleId(), 1, wash.id(), Pass.FIRST, By.nobody());
        assertThat(work.sheets().of(wash.id()).pass(Pass.FIRST).orElseThrow().agitation_s())
                .isEqualTo(60);
        work.cycles().detach(cycle.cycleId(), 1, "another colony's jar", By.nobody());

        assertThat(work.sheets().of(wash.id()).pass(Pass.FIRST).orElseThrow().cycles()).isEmpty();
        assertThat(unassigned()).hasSize(1);
        assertThat(work.sheets().of(wash.id()).corrections()).hasSize(2);
    }

    @Test
    void readingsReachListeners_andAreNotStored() throws Exception {
        BlockingQueue<BenchBoard.Standing> seen = new LinkedBlockingQueue<>();
        LiveReading live =
                new LiveReading(
                        LiveReading.SCHEMA,
                        benchId,
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
        try (AutoCloseable listening = station.board().listen(seen::add)) {
            assertThat(listening).isNotNull();
            bench.say(Topics.Kind.LIVE, live);
            BenchBoard.Standing standing = seen.poll(20, SECONDS);
            assertThat(standing).isNotNull();
            assertThat(standing.live()).isEqualTo(live);
        }
        assertThat(station.board().of(benchId)).isPresent();
    }
}
