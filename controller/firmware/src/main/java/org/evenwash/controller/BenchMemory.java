package org.evenwash.controller;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.evenwash.controller.port.Outbox;
import org.evenwash.controller.process.CycleEvidence;
import org.evenwash.controller.process.Entry;
import org.evenwash.controller.process.OutboxState;
import org.evenwash.controller.process.Pass;
import org.evenwash.controller.process.Position;
import org.evenwash.controller.process.ProofRecord;
import org.evenwash.controller.process.ProofTest;
import org.evenwash.controller.store.OutboxFile;
import org.evenwash.controller.store.OutboxWriter;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * What must survive a restart beside the records: when the stop chain was proven, which cycle and
 * jars were last, and which tickets were run. Learnt from the entries on their way to the outbox.
 */
final class BenchMemory implements Outbox {
    private static final Logger LOG = LoggerFactory.getLogger(BenchMemory.class);

    private static final String PROOF = "proof-test";
    private static final String NEVER = "never";
    private static final String CYCLE = "previous-cycle";
    private static final String JARS = "previous-jars";
    private static final String TICKETS = "used-tickets";

    /** To be remembered after damage: what the file says of the stop chain may be of before its last, failed test. */
    static final Map<String, String> UNPROVEN = Map.of(PROOF, NEVER);

    private final OutboxWriter writer;
    private final Desk desk;
    private ProofRecord proof;

    /**
     * What an earlier run left.
     *
     * @param proof empty when no proof test was ever passed or failed here; {@link ProofRecord#NEVER} after a failed
     *     one, and when what was kept cannot be read
     */
    record Recalled(
            Optional<ProofRecord> proof,
            UUID cycle,
            List<Position> jars,
            Map<UUID, UUID> tickets) {}

    BenchMemory(OutboxWriter writer, Desk desk, ProofRecord proof) {
        this.writer = writer;
        this.desk = desk;
        this.proof = proof;
    }

    static Recalled recall(OutboxFile file) {
        return new Recalled(
                recall(file, PROOF, BenchMemory::proof, ProofRecord.NEVER),
                recall(file, CYCLE, UUID::fromString, null).orElse(null),
                recall(file, JARS, BenchMemory::jars, null).orElse(List.of()),
                recall(file, TICKETS, BenchMemory::tickets, null).orElse(Map.of()));
    }

    /** A damaged fact must not keep the bench from starting, and it must not count as proven either. */
    private static <T> Optional<T> recall(
            OutboxFile file, String name, Function<String, T> read, T whenUnreadable) {
        try {
            return file.recall(name).map(read);
        } catch (IllegalArgumentException | IndexOutOfBoundsException e) {
            LOG.warn(
                    "What was remembered as {} cannot be read and is left out: {}",
                    name,
                    e.getMessage());
            return Optional.ofNullable(whenUnreadable);
        }
    }

    @Override
    public void append(Entry entry) {
        writer.append(entry);
        if (entry instanceof Entry.CycleStarted started) {
            began(started.soFar());
        } else if (entry instanceof Entry.BenchEvent event
                && event.kind() == Entry.Kind.PROOF_TEST_PASSED) {
            remember(ProofRecord.earlier(event.wallClock_ms(), event.clockSynchronised(), 0));
        } else if (entry instanceof Entry.BenchEvent event
                && event.kind() == Entry.Kind.PROOF_TEST_FAILED
                && !event.text().equals(ProofTest.LEFT)) {
            // A chain that was seen not to stop is not proven after a restart either.
            proof = ProofRecord.NEVER;
            writer.remember(PROOF, NEVER);
        }
    }

    private void began(CycleEvidence cycle) {
        writer.remember(CYCLE, cycle.cycleId().toString());
        writer.remember(JARS, text(cycle.positions()));
        desk.started(cycle.cycleId(), cycle.positions());
        writer.remember(TICKETS, text(desk.used()));
        if (proof.passed()) {
            remember(
                    ProofRecord.earlier(
                            proof.at_ms(), proof.clockSynchronised(), proof.cyclesSince() + 1));
        }
    }

    private void remember(ProofRecord record) {
        proof = record;
        writer.remember(
                PROOF,
                "%d %b %d"
                        .formatted(
                                record.at_ms(), record.clockSynchronised(), record.cyclesSince()));
    }

    ProofRecord proof() {
        return proof;
    }

    @Override
    public long durable() {
        return writer.durable();
    }

    @Override
    public OutboxState state() {
        return writer.state();
    }

    private static ProofRecord proof(String text) {
        if (text.equals(NEVER)) {
            return ProofRecord.NEVER;
        }
        String[] parts = text.split(" ", -1);
        return ProofRecord.earlier(
                Long.parseLong(parts[0]),
                Boolean.parseBoolean(parts[1]),
                Integer.parseInt(parts[2]));
    }

    /** One jar a line: position, ticket, wash and pass; a dash for what is not known. */
    private static String text(List<Position> jars) {
        return jars.stream()
                .map(
                        jar ->
                                "%d %s %s %s"
                                        .formatted(
                                                jar.position(),
                                                jar.ticketId() == null ? "-" : jar.ticketId(),
                                                jar.washId() == null ? "-" : jar.washId(),
                                                jar.pass()))
                .collect(Collectors.joining("\n"));
    }

    private static List<Position> jars(String text) {
        List<Position> jars = new ArrayList<>();
        for (String line : text.lines().toList()) {
            String[] parts = line.split(" ", -1);
            jars.add(
                    new Position(
                            Integer.parseInt(parts[0]),
                            id(parts[1]),
                            id(parts[2]),
                            Pass.valueOf(parts[3])));
        }
        return jars;
    }

    private static UUID id(String text) {
        return text.equals("-") ? null : UUID.fromString(text);
    }

    private static String text(Map<UUID, UUID> tickets) {
        return tickets.entrySet().stream()
                .map(entry -> entry.getKey() + " " + entry.getValue())
                .collect(Collectors.joining("\n"));
    }

    private static Map<UUID, UUID> tickets(String text) {
        Map<UUID, UUID> tickets = new LinkedHashMap<>();
        for (String line : text.lines().toList()) {
            String[] parts = line.split(" ", -1);
            tickets.put(UUID.fromString(parts[0]), UUID.fromString(parts[1]));
        }
        return tickets;
    }
}
