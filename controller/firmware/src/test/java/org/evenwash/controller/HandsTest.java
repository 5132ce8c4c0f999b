package org.evenwash.controller;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.BufferedReader;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.io.StringReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.stream.IntStream;
import org.evenwash.controller.SimulatedController.Play;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.config.ConfigurationFile;
import org.evenwash.controller.process.Status;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Hands at a simulated bench that are quicker than its scan. */
class HandsTest {
    private static final Duration SOON = Duration.ofSeconds(30);
    private static final int MORE_THAN_CAN_WAIT = 200;

    @TempDir Path folder;

    @Test
    void moreActsThanCanWait_areAllDone_inOrder() throws Exception {
        List<Integer> done = Collections.synchronizedList(new ArrayList<>());
        List<Integer> acts = IntStream.range(0, MORE_THAN_CAN_WAIT).boxed().toList();
        try (SimulatedController bench = start()) {
            acts.forEach(i -> bench.act(plant -> done.add(i)));
            assertThat(bench.settle(SOON)).isTrue();
        }
        assertThat(done).isEqualTo(acts);
    }

    @Test
    void script_quickerThanTheBench_losesNothingThatItSaysItDid() throws Exception {
        ByteArrayOutputStream said = new ByteArrayOutputStream();
        try (SimulatedController bench = start()) {
            String jars = "change-jar\n".repeat(MORE_THAN_CAN_WAIT / 10);
            run(bench, jars + "open-lid\nsettle\n", said);
            assertThat(bench.await(now -> against(now, "LID-OPEN"), SOON)).isTrue();
        }
        assertThat(said.toString(StandardCharsets.UTF_8)).doesNotContain("?");
    }

    @Test
    void benchThatHasEnded_saysSo_insteadOfWaitingForRoom() throws Exception {
        SimulatedController bench = start();
        bench.close();
        assertThatThrownBy(
                        () -> {
                            for (int i = 0; i < MORE_THAN_CAN_WAIT; i++) {
                                bench.openLid();
                            }
                        })
                .isInstanceOf(IllegalStateException.class)
                .hasMessageContaining("the bench has ended");
        ByteArrayOutputStream said = new ByteArrayOutputStream();
        run(bench, "open-lid\n", said);
        assertThat(said.toString(StandardCharsets.UTF_8))
                .startsWith("? open-lid: the bench has ended");
    }

    private static boolean against(Status now, String tag) {
        return now.againstStart().stream().anyMatch(row -> row.tag().equals(tag));
    }

    private static void run(SimulatedController bench, String script, ByteArrayOutputStream said)
            throws Exception {
        new HandScript(bench, new PrintStream(said, true, StandardCharsets.UTF_8))
                .run(new BufferedReader(new StringReader(script)));
    }

    private SimulatedController start() throws Exception {
        Configuration settings =
                ConfigurationFile.read(
                        "test",
                        "bench: { dataFolder: data }\nbroker: { host: 127.0.0.1, port: 1 }\n",
                        folder);
        return SimulatedController.start(settings, Play.faster(100));
    }
}
