package org.evenwash.controller;

import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.UUID;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.mqtt.BrokerLink;
import org.evenwash.controller.port.Actuators;
import org.evenwash.controller.port.Clock;
import org.evenwash.controller.port.Panel;
import org.evenwash.controller.port.Sensors;
import org.evenwash.controller.process.Machine;
import org.evenwash.controller.process.ProofRecord;
import org.evenwash.controller.process.Recipe;
import org.evenwash.controller.process.Refusal;
import org.evenwash.controller.process.State;
import org.evenwash.controller.process.Status;
import org.evenwash.controller.store.OutboxFile;
import org.evenwash.controller.store.OutboxRefused;
import org.evenwash.controller.store.OutboxWriter;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.BenchState;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A whole controller, wired by hand. Threads: the scan, which alone moves anything; the outbox
 * writer; the broker link. Start-up ends in IDLE, whatever there was before.
 */
final class Controller implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(Controller.class);

    /** Longest ramp, coasting and a record: then the program ends whatever the machine says. */
    private static final long FAREWELL_MS = 12_000;

    private final DataFolder folder;
    private final OutboxWriter outbox;
    private final BrokerLink link;
    private final Reporter reporter;
    private final Mailroom mailroom;
    private final Desk desk;
    private final LocalPanel panel;
    private final ControlLoop loop;
    private final Thread scan;

    /**
     * What a controller is made on.
     *
     * @param buttons the bench's own; null when it has none
     * @param proof what stands for the last proof test when the outbox knows of none
     */
    record Bench(
            boolean simulated,
            Clock clock,
            ControlLoop.Pace pace,
            Sensors sensors,
            Actuators actuators,
            Panel buttons,
            ProofRecord proof) {}

    /**
     * @param shown gets what the panel shows, on the scan's thread; must not block
     * @throws OutboxRefused when the data folder cannot be used; nothing was changed in it
     */
    Controller(Configuration config, Bench bench, Consumer<Status> shown) throws OutboxRefused {
        folder = DataFolder.take(config.dataFolder());
        OutboxFile file = opened(config.dataFolder().resolve(OutboxFile.NAME));
        OutboxFile.Recovered recovered = file.recover();
        BenchMemory.Recalled recalled = BenchMemory.recall(file);
        ProofRecord proof = recalled.proof().orElse(bench.proof());
        ContractTranslation.Identity identity =
                new ContractTranslation.Identity(
                        config.benchId(), UUID.randomUUID(), bench.simulated(), Version.OF_THIS);

        desk = new Desk(config.benchId(), config.settings(), config.recipe());
        desk.remember(recalled.tickets());
        outbox =
                new OutboxWriter(
                        file,
                        config.dataFolder(),
                        config.keeping(),
                        new ContractTranslation(identity),
                        bench.clock()::wallClock_ms,
                        this::newMail);
        BenchMemory memory = new BenchMemory(outbox, desk, proof);
        reporter =
                new Reporter(
                        identity,
                        bench.clock(),
                        desk,
                        outbox,
                        memory,
                        reading -> link().live(reading),
                        reasons -> announce(bench.clock(), identity, reasons),
                        this::changed);
        mailroom =
                new Mailroom(
                        config.benchId(),
                        desk,
                        outbox,
                        bench.clock(),
                        (kind, ticket, text) ->
                                announce(bench.clock(), identity, kind, ticket, text),
                        () -> link().receiptSeen());
        link =
                new BrokerLink(
                        config.broker(),
                        config.benchId(),
                        bench.simulated(),
                        outbox,
                        reporter::current,
                        mailroom);
        panel = new LocalPanel(desk, bench.buttons(), shown);
        loop =
                new ControlLoop(
                        Machine.boot(config.settings(), proof, recalled.cycle(), recalled.jars()),
                        new ControlLoop.Ports(
                                bench.clock(),
                                bench.sensors(),
                                bench.actuators(),
                                panel,
                                mailroom,
                                memory,
                                reporter),
                        bench.pace());
        scan = new Thread(loop, "scan");
        scan.setUncaughtExceptionHandler(
                (thread, e) -> LOG.error("The scan ended; outputs are off.", e));
        announce(bench.clock(), identity, BenchEvent.Kind.BOOTED, null, booted(recovered));
        recovered
                .cycles()
                .forEach(
                        record -> LOG.warn("Cycle {} was {}.", record.cycleId(), record.outcome()));
        recovered
                .unreadable()
                .forEach(
                        cycle ->
                                LOG.error(
                                        "Cycle {} was left open, and what was kept of it is damaged: no record comes"
                                                + " of it. It stays in the outbox for a person to read.",
                                        cycle));
    }

    private OutboxFile opened(Path outbox) throws OutboxRefused {
        try {
            return OutboxFile.open(outbox);
        } catch (OutboxRefused e) {
            folder.close();
            throw e;
        }
    }

    Controller start() {
        outbox.start();
        link.start();
        scan.start();
        return this;
    }

    private static String booted(OutboxFile.Recovered recovered) {
        StringBuilder text = new StringBuilder("Controller %s started.".formatted(Version.OF_THIS));
        if (!recovered.cycles().isEmpty()) {
            text.append(" Cycles an earlier run left open: ")
                    .append(recovered.cycles().size())
                    .append('.');
        }
        if (!recovered.unreadable().isEmpty()) {
            text.append(" Left open and too damaged for a record: cycle ")
                    .append(String.join(", ", recovered.unreadable()))
                    .append('.');
        }
        return text.toString();
    }

    private BrokerLink link() {
        return link;
    }

    /** On the scan's thread, so the file is written by the outbox's. */
    private void changed(State state) {
        outbox.aside(() -> folder.show(state));
        newMail();
    }

    private void newMail() {
        BrokerLink there = link;
        if (there != null) {
            there.wake();
        }
    }

    private void announce(
            Clock clock, ContractTranslation.Identity identity, List<Refusal> reasons) {
        announce(
                clock,
                identity,
                BenchEvent.Kind.START_REFUSED,
                null,
                reasons.stream()
                        .map(r -> r.tag() + ": " + r.reason())
                        .collect(Collectors.joining("; ")));
    }

    private void announce(
            Clock clock,
            ContractTranslation.Identity identity,
            BenchEvent.Kind kind,
            UUID ticketId,
            String text) {
        Instant at = Instant.ofEpochMilli(clock.wallClock_ms());
        boolean synchronised = clock.synchronised();
        double uptime_s = clock.uptime_ns() * 1e-9;
        outbox.event(
                (eventId, outboxId, sequence) ->
                        new BenchEvent(
                                BenchEvent.SCHEMA,
                                eventId,
                                identity.benchId(),
                                identity.bootId(),
                                outboxId,
                                sequence,
                                identity.simulated(),
                                at,
                                ContractTranslation.clock(synchronised),
                                uptime_s,
                                kind,
                                null,
                                null,
                                ticketId,
                                text.length() <= 2_000 ? text : text.substring(0, 2_000)));
    }

    LocalPanel panel() {
        return panel;
    }

    Desk desk() {
        return desk;
    }

    OutboxWriter outbox() {
        return outbox;
    }

    BrokerLink broker() {
        return link;
    }

    /** Where the link leaves what came in. */
    Mailroom mailroom() {
        return mailroom;
    }

    /** What the link tells of the bench. */
    BenchState told() {
        return reporter.current();
    }

    /** Scans made so far. */
    long scans() {
        return loop.scans();
    }

    /** A safety contact moved. */
    void wake() {
        loop.wake();
    }

    void choose(Recipe recipe) {
        desk.choose(recipe);
    }

    /** The last status shown; null before the first scan. */
    Status status() {
        return reporter.latest();
    }

    /** No scan will be made any more. */
    boolean ended() {
        return loop.ended();
    }

    /** Waits until the scan has ended; true when it ended because it was asked to. */
    boolean awaitEnd() throws InterruptedException {
        scan.join();
        return loop.cause() == null;
    }

    /** Motor off, record stored, OFFLINE said: in that order. */
    @Override
    public void close() {
        loop.close();
        try {
            if (scan.isAlive()) {
                scan.join(FAREWELL_MS);
            }
            if (scan.isAlive()) {
                LOG.error("The scan did not end in {} ms.", FAREWELL_MS);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        link.close();
        outbox.close();
        folder.close();
    }
}
