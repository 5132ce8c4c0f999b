package org.evenwash.controller;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.UUID;
import org.evenwash.controller.SimulatedController.Play;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.config.ConfigurationFile;
import org.evenwash.controller.config.MistakenFile;
import org.evenwash.controller.config.RecipeSheets;
import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.State;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.BenchState;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Messages;
import org.evenwash.record.Outcome;
import org.evenwash.record.Pass;
import org.evenwash.record.Receipt;
import org.evenwash.record.RecipeSheet;
import org.evenwash.record.Ticket;
import org.evenwash.record.Topics;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A simulated bench, a real broker, a real outbox file. */
class BrokerStoriesTest {
    private static final Duration SOON = Duration.ofSeconds(20);
    private static final String BENCH = "bench-1";

    @TempDir Path folder;
    private Mosquitto broker;
    private LoggerStandIn logger;
    private SimulatedController bench;

    @BeforeEach
    void start() throws Exception {
        broker = Mosquitto.start(folder);
        logger = new LoggerStandIn(broker.port(), BENCH, true);
        bench = SimulatedController.start(configuration(), Play.faster(50));
        logger.await(l -> l.states().stream().anyMatch(s -> s.state() == BenchState.State.IDLE));
    }

    @AfterEach
    void stop() throws Exception {
        bench.close();
        logger.close();
        broker.close();
    }

    private Configuration configuration() throws MistakenFile {
        return ConfigurationFile.read(
                "test",
                """
                bench: { dataFolder: data, recipe: twenty-seconds }
                broker: { host: 127.0.0.1, port: %d }
                """
                        .formatted(broker.port()),
                folder);
    }

    @Test
    void washedJar_isARecordAtTheLogger_andItsReceiptEmptiesTheOutbox() {
        wash();
        bench.changeJars();

        logger.await(l -> l.cycles().size() == 1);
        CycleRecord record = logger.cycles().get(0);
        assertThat(record.outcome()).isEqualTo(Outcome.COMPLETE);
        assertThat(record.agitation_s()).isBetween(19.99, 20.02);
        assertThat(record.conformity().conforms()).isTrue();
        assertThat(record.simulated()).isTrue();
        assertThat(record.positions().get(0).removed()).isTrue();
        assertThat(logger.live()).isNotEmpty();
        logger.await(l -> bench.unsent() == 0);
    }

    @Test
    void benchThatEnds_saysOffline() {
        bench.close();

        logger.await(
                l -> {
                    List<BenchState> states = l.states();
                    return states.get(states.size() - 1).state() == BenchState.State.OFFLINE;
                });
    }

    @Test
    void receiptWithAnotherHash_leavesTheRecordInTheOutbox() throws Exception {
        logger.await(l -> bench.unsent() == 0);
        logger.close();
        logger = new LoggerStandIn(broker.port(), BENCH, false);
        wash();
        bench.choose(Choice.SAME_JAR_AGAIN);
        logger.await(l -> l.cycles().size() == 1);
        UUID cycleId = logger.cycles().get(0).cycleId();

        logger.send(Topics.Kind.RECEIPT, receipt(cycleId, new byte[0]));
        // A second, right one: when it has worked, the wrong one had its chance.
        long before = bench.unsent();
        assertThat(before).isPositive();
        logger.send(
                Topics.Kind.RECEIPT, receipt(cycleId, logger.payloads(Topics.Kind.CYCLE).get(0)));

        logger.await(l -> bench.unsent() < before);
    }

    @Test
    void resend_offersReleasedRecordsAgain() throws Exception {
        wash();
        bench.choose(Choice.SAME_JAR_AGAIN);
        logger.await(l -> l.cycles().size() == 1 && bench.unsent() == 0);
        long sequence = logger.cycles().get(0).sequence();

        logger.send(
                Topics.Kind.COMMAND,
                command(
                        BenchCommand.Action.RESEND,
                        null,
                        new BenchCommand.Resend(bench.outboxId(), sequence, sequence)));

        logger.await(l -> l.cycles().size() == 2);
        assertThat(logger.payloads(Topics.Kind.CYCLE).get(1))
                .isEqualTo(logger.payloads(Topics.Kind.CYCLE).get(0));
    }

    @Test
    void brokerKilledWhileTheMotorTurns_changesNothingAtTheBench_andTheRecordArrivesLater()
            throws Exception {
        startCycle();
        logger.close();
        broker.kill();
        assertThat(bench.await(State.COMPLETE, SOON)).isTrue();
        bench.choose(Choice.SAME_JAR_AGAIN);
        broker.start();
        logger = new LoggerStandIn(broker.port(), BENCH, true);

        logger.await(l -> !l.cycles().isEmpty() && bench.unsent() == 0);
        assertThat(logger.cycles()).extracting(CycleRecord::outcome).containsOnly(Outcome.COMPLETE);
        assertThat(logger.cycles().stream().map(CycleRecord::cycleId).distinct()).hasSize(1);
    }

    @Test
    void ticket_isShownAndRunByThePersonAtTheBench_andNotTwice() throws Exception {
        Ticket ticket = ticket(RecipeSheets.sheet(configuration().recipe()), 1);
        logger.send(Topics.Kind.TICKET, ticket);
        assertThat(logger.textOf(BenchEvent.Kind.TICKET_ACCEPTED)).contains("Linden 3", "START");
        assertThat(bench.state()).isEqualTo(State.IDLE);

        wash();
        bench.choose(Choice.SAME_JAR_AGAIN);
        logger.await(l -> l.cycles().size() == 1);
        assertThat(logger.cycles().get(0).positions().get(0).washId()).isEqualTo(ticket.washId());
        assertThat(bench.tickets()).isEmpty();

        logger.send(Topics.Kind.TICKET, ticket);
        assertThat(logger.textOf(BenchEvent.Kind.TICKET_REFUSED)).contains("was run already");
    }

    @Test
    void ticketBeyondTheBench_isRefusedWithTheReason() throws Exception {
        RecipeSheet fast =
                RecipeSheet.of(
                        "too-fast",
                        "Too fast",
                        1,
                        List.of(new RecipeSheet.Bout(20, 900, 1, 0, false)),
                        1,
                        new RecipeSheet.Tolerances(0.2, 2, 0.1, 0.9),
                        60);
        logger.send(Topics.Kind.TICKET, ticket(fast, 1));

        assertThat(logger.textOf(BenchEvent.Kind.TICKET_REFUSED)).contains("speed", "300");
        assertThat(bench.tickets()).isEmpty();
    }

    @Test
    void holdFromAfar_holdsItsOwnCycleOnly() throws Exception {
        startCycle();
        UUID cycleId = bench.status().cycleId();
        logger.send(
                Topics.Kind.COMMAND, command(BenchCommand.Action.STOP, UUID.randomUUID(), null));
        logger.send(Topics.Kind.COMMAND, command(BenchCommand.Action.HOLD, cycleId, null));

        assertThat(bench.await(State.HELD, SOON)).isTrue();
        assertThat(bench.status().cause()).isEqualTo("REMOTE");
    }

    @Test
    void retainedCommand_isIgnored_andSoIsAReplayedOne() throws Exception {
        startCycle();
        BenchCommand hold = command(BenchCommand.Action.HOLD, bench.status().cycleId(), null);
        byte[] stop =
                Messages.write(command(BenchCommand.Action.STOP, bench.status().cycleId(), null));
        logger.send(Topics.Kind.COMMAND, stop, true);
        logger.send(Topics.Kind.COMMAND, hold);
        assertThat(bench.await(State.HELD, SOON)).isTrue();

        bench.press(Command.RESTART);
        assertThat(bench.await(State.RUNNING, SOON)).isTrue();
        logger.send(Topics.Kind.COMMAND, hold);
        assertThat(bench.await(State.COMPLETE, SOON)).isTrue();
    }

    @Test
    void expiredCommand_isIgnored_andSoIsOneFromTheFuture() throws Exception {
        startCycle();
        UUID cycleId = bench.status().cycleId();
        logger.send(Topics.Kind.COMMAND, issued(stop(cycleId), Instant.now().minusSeconds(60)));
        logger.send(Topics.Kind.COMMAND, issued(stop(cycleId), Instant.now().plusSeconds(60)));
        // Messages keep their order: when this one has worked, those before had their chance.
        logger.send(Topics.Kind.COMMAND, command(BenchCommand.Action.HOLD, cycleId, null));

        assertThat(bench.await(State.HELD, SOON)).isTrue();
        bench.press(Command.RESTART);
        assertThat(bench.await(State.COMPLETE, SOON)).isTrue();
    }

    @Test
    void withdrawnTicket_leavesTheDesk_andSaysSo() throws Exception {
        Ticket ticket = ticket(RecipeSheets.sheet(configuration().recipe()), 1);
        logger.send(Topics.Kind.TICKET, ticket);
        logger.textOf(BenchEvent.Kind.TICKET_ACCEPTED);
        assertThat(bench.tickets()).hasSize(1);

        logger.send(Topics.Kind.TICKET, withdrawal(ticket));
        assertThat(logger.textOf(BenchEvent.Kind.TICKET_WITHDRAWN)).contains("Position 1");
        assertThat(bench.tickets()).isEmpty();

        // Withdrawn once more it changes nothing; offered again it may be loaded.
        logger.send(Topics.Kind.TICKET, withdrawal(ticket));
        logger.send(Topics.Kind.TICKET, ticket);
        logger.await(l -> bench.tickets().size() == 1);
        assertThat(logger.events())
                .extracting(BenchEvent::kind)
                .containsOnlyOnce(BenchEvent.Kind.TICKET_WITHDRAWN);
    }

    private static BenchCommand stop(UUID cycleId) {
        return command(BenchCommand.Action.STOP, cycleId, null);
    }

    private static BenchCommand issued(BenchCommand command, Instant at) {
        return new BenchCommand(
                command.schema(),
                command.commandId(),
                command.benchId(),
                at,
                command.action(),
                command.cycleId(),
                command.resend());
    }

    private static Ticket withdrawal(Ticket of) {
        return new Ticket(
                of.schema(),
                of.ticketId(),
                of.benchId(),
                Instant.now(),
                Ticket.Action.WITHDRAW,
                of.position(),
                of.washId(),
                of.pass(),
                of.colony(),
                of.operator(),
                of.recipe(),
                of.spirit());
    }

    @Test
    void noMessageOnAnyTopic_startsMotion_retainedOrReplayedOrNot() throws Exception {
        bench.choose(Choice.ACKNOWLEDGE_CAUTIONS).pause(Duration.ofSeconds(2));
        List<byte[]> payloads =
                List.of(
                        text("start"),
                        text("{\"schema\":\"command/1.0\",\"action\":\"start\"}"),
                        text("{\"schema\":\"command/1.0\",\"action\":\"restart\"}"),
                        text(
                                "{\"schema\":\"command/1.0\",\"commandId\":\"%s\",\"benchId\":\"%s\",\"issuedAt\":\"%s\",\"action\":\"start\",\"cycleId\":\"%s\"}"
                                        .formatted(
                                                UUID.randomUUID(),
                                                BENCH,
                                                Instant.now(),
                                                UUID.randomUUID())),
                        Messages.write(ticket(RecipeSheets.sheet(configuration().recipe()), 1)),
                        Messages.write(command(BenchCommand.Action.HOLD, UUID.randomUUID(), null)),
                        Messages.write(command(BenchCommand.Action.STOP, UUID.randomUUID(), null)),
                        Messages.write(receipt(UUID.randomUUID(), new byte[0])),
                        new byte[] {(byte) 0xFF, (byte) 0xFE},
                        new byte[Messages.MOST_BYTES + 1]);
        for (Topics.Kind kind : Topics.Kind.values()) {
            for (byte[] payload : payloads) {
                // Twice: a replay is the same message again.
                logger.send(kind, payload, false);
                logger.send(kind, payload, false);
                logger.send(kind, payload, true);
            }
        }
        // What comes back shows that all before it was dealt with: messages keep their order.
        logger.send(Topics.Kind.TICKET, ticket(RecipeSheets.sheet(configuration().recipe()), 2));
        logger.textOf(BenchEvent.Kind.TICKET_REFUSED);

        assertThat(bench.state()).isEqualTo(State.IDLE);
        assertThat(bench.status().setpoint_rpm()).isZero();
        assertThat(bench.status().cycleId()).isNull();
        // The bench was ready all the time: a hand at the button does start it.
        bench.press(Command.START);
        assertThat(bench.await(State.RUNNING, SOON)).isTrue();
    }

    private void startCycle() {
        bench.choose(Choice.ACKNOWLEDGE_CAUTIONS).pause(Duration.ofSeconds(2));
        bench.press(Command.START);
        assertThat(bench.await(now -> now.setpoint_rpm() > 0, SOON)).isTrue();
    }

    private void wash() {
        startCycle();
        assertThat(bench.await(State.COMPLETE, SOON)).isTrue();
    }

    private static Ticket ticket(RecipeSheet recipe, int position) {
        return new Ticket(
                Ticket.SCHEMA,
                UUID.randomUUID(),
                BENCH,
                Instant.now(),
                Ticket.Action.LOAD,
                position,
                UUID.randomUUID(),
                Pass.FIRST,
                "Linden 3",
                "A. Keeper",
                recipe,
                null);
    }

    private static BenchCommand command(
            BenchCommand.Action action, UUID cycleId, BenchCommand.Resend resend) {
        return new BenchCommand(
                BenchCommand.SCHEMA,
                UUID.randomUUID(),
                BENCH,
                Instant.now(),
                action,
                cycleId,
                resend);
    }

    private static Receipt receipt(UUID messageId, byte[] payload) {
        return new Receipt(
                Receipt.SCHEMA, messageId, Messages.sha256(payload), Receipt.Result.STORED, null);
    }

    private static byte[] text(String words) {
        return words.getBytes(StandardCharsets.UTF_8);
    }
}
