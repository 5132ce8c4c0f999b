package org.evenwash.controller;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.time.Duration;
import java.util.List;
import java.util.UUID;
import org.evenwash.controller.SimulatedController.Play;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.config.ConfigurationFile;
import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.Entry;
import org.evenwash.controller.process.ProofRecord;
import org.evenwash.controller.process.ProofTest;
import org.evenwash.controller.process.Status;
import org.evenwash.controller.store.OutboxFile;
import org.evenwash.controller.store.OutboxWriter;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.Messages;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a bench still knows after a restart about the proof of its stop chain. */
class BenchMemoryTest {
    private static final Duration SOON = Duration.ofSeconds(60);
    private static final long AT_MS = 1_780_000_000_000L;

    @TempDir Path folder;
    private Configuration settings;

    @BeforeEach
    void read() throws Exception {
        settings =
                ConfigurationFile.read(
                        "test",
                        "bench: { dataFolder: data }\nbroker: { host: 127.0.0.1, port: 1 }\n",
                        folder);
    }

    /** Hands entries to a memory as the loop does, and opens its file again. */
    private BenchMemory.Recalled afterRestart(Entry... entries) throws Exception {
        OutboxFile file = OutboxFile.open(folder.resolve("outbox.db"));
        OutboxWriter writer =
                new OutboxWriter(
                        file,
                        folder,
                        settings.keeping(),
                        new ContractTranslation(
                                new ContractTranslation.Identity(
                                        "bench-1", UUID.randomUUID(), true, "test")),
                        () -> AT_MS,
                        () -> {});
        Desk desk = new Desk("bench-1", settings.settings(), settings.recipe());
        BenchMemory memory = new BenchMemory(writer.start(), desk, ProofRecord.NEVER);
        List.of(entries).forEach(memory::append);
        writer.close();
        OutboxFile again = OutboxFile.open(folder.resolve("outbox.db"));
        try {
            return BenchMemory.recall(again);
        } finally {
            again.close();
        }
    }

    private static Entry event(long serial, Entry.Kind kind, String text) {
        return new Entry.BenchEvent(serial, kind, "PROOF-TEST", text, null, serial, AT_MS, true);
    }

    private static final Entry PASSED = event(1, Entry.Kind.PROOF_TEST_PASSED, "passed");

    @Test
    void neverTested_nothingIsRecalled() throws Exception {
        assertThat(afterRestart().proof()).isEmpty();
    }

    @Test
    void passed_isRecalledWithItsTime() throws Exception {
        assertThat(afterRestart(PASSED).proof())
                .hasValueSatisfying(
                        proof -> {
                            assertThat(proof.passed()).isTrue();
                            assertThat(proof.at_ms()).isEqualTo(AT_MS);
                            assertThat(proof.cyclesSince()).isZero();
                        });
    }

    @Test
    void passedAndThenFailed_isVoidAfterTheRestartToo() throws Exception {
        Entry failed = event(2, Entry.Kind.PROOF_TEST_FAILED, "the lid did not open the contactor");
        assertThat(afterRestart(PASSED, failed).proof()).contains(ProofRecord.NEVER);
    }

    @Test
    void passedAndThenLeftWithStop_keepsWhatWasProven() throws Exception {
        Entry left = event(2, Entry.Kind.PROOF_TEST_FAILED, ProofTest.LEFT);
        assertThat(afterRestart(PASSED, left).proof())
                .hasValueSatisfying(proof -> assertThat(proof.passed()).isTrue());
    }

    @Test
    void failedAtTheBench_theRestartedBenchRefusesToStart() throws Exception {
        try (SimulatedController bench = SimulatedController.start(settings, Play.faster(100))) {
            // It comes up proven; then the test is begun and nobody presses the emergency stop.
            assertThat(bench.await(now -> !due(now) && now.againstStart().size() <= 1, SOON))
                    .isTrue();
            bench.choose(Choice.PROOF_TEST);
            assertThat(bench.await(BenchMemoryTest::due, Duration.ofMinutes(3))).isTrue();
        }
        try (SimulatedController again = SimulatedController.start(settings, Play.faster(100))) {
            again.choose(Choice.ACKNOWLEDGE_CAUTIONS).pause(Duration.ofSeconds(2));
            again.press(Command.START);
            assertThat(
                            again.await(
                                    now ->
                                            now.refused().stream()
                                                    .anyMatch(
                                                            r -> r.tag().equals("PROOF-TEST-DUE")),
                                    SOON))
                    .isTrue();
        }
    }

    @Test
    void factsThatAreDamaged_countAsAbsent_andTheProofAsNever() throws Exception {
        Path file = folder.resolve("outbox.db");
        BenchMemory.Recalled recalled;
        try (OutboxFile outbox = OutboxFile.open(file);
                Told told = new Told()) {
            outbox.remember("proof-test", "178000000000x true 0");
            outbox.remember("previous-cycle", "not-an-id");
            outbox.remember("previous-jars", "1 - -");
            outbox.remember("used-tickets", "neither");
            recalled = BenchMemory.recall(outbox);
            assertThat(told.text().lines()).hasSize(4).allMatch(l -> l.contains("cannot be read"));
        }
        assertThat(recalled.proof()).contains(ProofRecord.NEVER);
        assertThat(recalled.cycle()).isNull();
        assertThat(recalled.jars()).isEmpty();
        assertThat(recalled.tickets()).isEmpty();
    }

    /** Whoever reads the logger's pages must learn that a cycle was begun of which no record comes. */
    @Test
    void draftThatIsDamaged_isToldAtTheStart_toTheLoggerToo() throws Exception {
        UUID cycleId = UUID.randomUUID();
        Path file = Files.createDirectories(folder.resolve("data")).resolve("outbox.db");
        OutboxFile.open(file).close();
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file);
                Statement statement = connection.createStatement()) {
            statement.execute("INSERT INTO draft VALUES ('" + cycleId + "', x'00')");
        }
        try (Told told = new Told()) {
            SimulatedController.start(settings, Play.faster(100)).close();
            assertThat(told.text()).contains("[ERROR]", "Cycle " + cycleId + " was left open");
        }
        try (OutboxFile outbox = OutboxFile.open(file)) {
            OutboxFile.Row first = outbox.unreleased(0, 1).get(0);
            BenchEvent booted = Messages.read(first.payload(), BenchEvent.class);
            assertThat(booted.kind()).isEqualTo(BenchEvent.Kind.BOOTED);
            assertThat(booted.text()).contains("too damaged for a record: cycle " + cycleId);
        }
    }

    private static boolean due(Status now) {
        return now.againstStart().stream().anyMatch(row -> row.tag().equals("PROOF-TEST-DUE"));
    }
}
