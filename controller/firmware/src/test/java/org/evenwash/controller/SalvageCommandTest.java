package org.evenwash.controller;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.io.RandomAccessFile;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import org.evenwash.controller.SimulatedController.Play;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.config.ConfigurationFile;
import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.ProofRecord;
import org.evenwash.controller.store.OutboxFile;
import org.evenwash.controller.store.OutboxRefused;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** From a bench that refuses to start to one that starts, by what its own words say. */
class SalvageCommandTest {
    @TempDir Path folder;
    private String said;
    private int code;

    private Configuration settings() throws Exception {
        return ConfigurationFile.read(
                "test",
                "bench: { dataFolder: data }\nbroker: { host: 127.0.0.1, port: 1 }\n",
                folder);
    }

    private void salvage() throws Exception {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        PrintStream before = System.out;
        PrintStream beforeErr = System.err;
        System.setOut(new PrintStream(out, true, "UTF-8"));
        System.setErr(System.out);
        try {
            code = Main.run("salvage", "--data", folder.resolve("data").toString());
        } finally {
            System.setOut(before);
            System.setErr(beforeErr);
        }
        said = out.toString("UTF-8");
    }

    @Test
    void damagedOutbox_afterSalvage_theBenchStarts_unproven_withItsMessages() throws Exception {
        SimulatedController.start(settings(), Play.faster(50)).close();
        Path file = folder.resolve("data/outbox.db");
        try (RandomAccessFile bytes = new RandomAccessFile(file.toFile(), "rw")) {
            bytes.seek(bytes.length() - 4_096); // the last page that was needed
            bytes.write(new byte[4_096]);
        }
        assertThat(refusal()).contains("evenwash-controller salvage --data " + folder);

        salvage();
        assertThat(code).isZero();
        assertThat(said).contains("Keep it.", "Saved into a new one:", "proof test");
        try (OutboxFile outbox = OutboxFile.open(file)) {
            assertThat(BenchMemory.recall(outbox).proof()).contains(ProofRecord.NEVER);
            assertThat(outbox.depth()).isPositive();
        }
        try (SimulatedController again = SimulatedController.start(settings(), Play.faster(50))) {
            again.choose(Choice.ACKNOWLEDGE_CAUTIONS).pause(Duration.ofSeconds(2));
            again.press(Command.START);
            assertThat(
                            again.await(
                                    now ->
                                            now.refused().stream()
                                                    .anyMatch(
                                                            r -> r.tag().equals("PROOF-TEST-DUE")),
                                    Duration.ofSeconds(60)))
                    .isTrue();
        }
        salvage();
        assertThat(said).contains("is sound: nothing was done");
    }

    private String refusal() throws Exception {
        try {
            SimulatedController.start(settings(), Play.faster(50)).close();
            return "";
        } catch (OutboxRefused e) {
            return e.getMessage();
        }
    }

    @Test
    void controllerThatRuns_isNotDisturbed() throws Exception {
        try (SimulatedController bench = SimulatedController.start(settings(), Play.faster(50))) {
            salvage();
            assertThat(code).isEqualTo(Main.WRONG_INPUT);
            assertThat(said).contains("is in use by another controller. Stop that one first");
            assertThat(bench.await(now -> bench.unsent() > 0, Duration.ofSeconds(60)))
                    .as("it goes on storing")
                    .isTrue();
        }
    }

    @Test
    void interruptedSalvage_isFinished_althoughThereIsNoOutbox() throws Exception {
        Path file = folder.resolve("data/outbox.db");
        OutboxFile.open(file).close();
        byte[] saved = Files.readAllBytes(file);
        Files.move(file, folder.resolve("data/outbox.db.salvaged"));

        salvage();
        assertThat(code).isZero();
        assertThat(said).contains("had been interrupted is finished", "Start the controller again");
        assertThat(file).hasBinaryContent(saved);
        salvage();
        assertThat(said).contains("is sound: nothing was done");
    }

    @Test
    void otherFolder_isToldAndNothingIsMadeThere() throws Exception {
        salvage();
        assertThat(code).isEqualTo(Main.WRONG_INPUT);
        assertThat(said).contains("There is no ", "--data");
        assertThat(Files.exists(folder.resolve("data"))).isFalse();
    }
}
