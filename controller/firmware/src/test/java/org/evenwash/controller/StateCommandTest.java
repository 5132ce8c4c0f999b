package org.evenwash.controller;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import org.awaitility.Awaitility;
import org.evenwash.controller.SimulatedController.Play;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.config.ConfigurationFile;
import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.State;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

/** What an upgrade asks before it stops the controller. */
class StateCommandTest {
    private static final Duration SOON = Duration.ofSeconds(60);

    @TempDir Path folder;
    private final StringWriter out = new StringWriter();
    private final StringWriter err = new StringWriter();

    private Configuration settings() throws Exception {
        return ConfigurationFile.read(
                "test",
                "bench: { dataFolder: data }\nbroker: { host: 127.0.0.1, port: 1 }\n",
                folder);
    }

    private int ask(String... more) {
        out.getBuffer().setLength(0);
        return new CommandLine(new StateCommand())
                .setOut(new PrintWriter(out, true))
                .setErr(new PrintWriter(err, true))
                .execute(arguments(more));
    }

    private String[] arguments(String... more) {
        String[] all = new String[more.length + 2];
        all[0] = "--data";
        all[1] = folder.resolve("data").toString();
        System.arraycopy(more, 0, all, 2, more.length);
        return all;
    }

    @Test
    void noControllerEverRan_orNoneRunsNow_isOffline() throws Exception {
        assertThat(ask()).isZero();
        assertThat(out.toString().strip()).isEqualTo("OFFLINE");
        SimulatedController.start(settings(), Play.faster(50)).close();
        assertThat(ask()).isZero();
        assertThat(out.toString().strip()).isEqualTo("OFFLINE");
    }

    @Test
    void killedInTheMiddleOfACycle_itsLastStateCountsForNothing() throws Exception {
        // The kernel gives a killed program's lock back; its files stay.
        Path data = Files.createDirectories(folder.resolve("data"));
        Files.createFile(data.resolve("lock"));
        Files.writeString(data.resolve("state"), "RUNNING");
        assertThat(ask()).isZero();
        assertThat(out.toString().strip()).isEqualTo("OFFLINE");
    }

    @Test
    void washUnderWay_isBusy_andAnUpgradeThatWaitsGoesOnWhenTheBenchIsIdleAgain() throws Exception {
        try (SimulatedController bench = SimulatedController.start(settings(), Play.faster(50))) {
            assertThat(ask("--wait-idle", "60")).isZero();
            assertThat(out.toString().strip()).isEqualTo("IDLE");

            bench.choose(Choice.ACKNOWLEDGE_CAUTIONS).pause(Duration.ofSeconds(2));
            bench.press(Command.START);
            assertThat(bench.await(State.RUNNING, SOON)).isTrue();
            awaitFile("RUNNING");
            assertThat(ask()).isEqualTo(StateCommand.BUSY);
            assertThat(out.toString().strip()).isEqualTo("RUNNING");
            assertThat(err.toString()).contains("let the wash end", "press START");

            assertThat(bench.await(State.COMPLETE, SOON)).isTrue();
            awaitFile("COMPLETE");
            assertThat(ask()).as("the jar still soaks").isEqualTo(StateCommand.BUSY);
            bench.press(Command.RESET);
            assertThat(ask("--wait-idle", "60")).isZero();
            assertThat(out.toString().strip()).isEqualTo("IDLE");
        }
    }

    @Test
    void lookingAt_keepsNoControllerFromStarting() throws Exception {
        Thread looking =
                new Thread(
                        () -> {
                            while (!Thread.currentThread().isInterrupted()) {
                                ask();
                            }
                        });
        looking.start();
        try {
            for (int i = 0; i < 10; i++) {
                DataFolder.take(folder.resolve("data")).close();
            }
        } finally {
            looking.interrupt();
            looking.join();
        }
    }

    @Test
    void waitOutsideItsRange_isSaidSo() {
        assertThat(ask("--wait-idle", "-1")).isEqualTo(Main.WRONG_INPUT);
        assertThat(err.toString()).contains("--wait-idle is -1", "0 to 86400");
    }

    private void awaitFile(String state) {
        Awaitility.await()
                .atMost(SOON)
                .untilAsserted(
                        () -> assertThat(DataFolder.look(folder.resolve("data"))).isEqualTo(state));
    }
}
