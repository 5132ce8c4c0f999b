package org.evenwash.controller;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.awaitility.Awaitility;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.config.ConfigurationFile;
import org.evenwash.controller.port.Actuators;
import org.evenwash.controller.port.Clock;
import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.Outputs;
import org.evenwash.controller.process.ProofRecord;
import org.evenwash.controller.process.State;
import org.evenwash.controller.process.Status;
import org.evenwash.controller.sim.SimulatedPlant;
import org.evenwash.controller.store.OutboxFile;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Messages;
import org.evenwash.record.Outcome;
import org.evenwash.record.Topics;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A controller in real time, as on a real bench, told to end while the motor turns. */
class ControllerShutdownTest {
    private static final Duration SOON = Duration.ofSeconds(30);

    @TempDir Path folder;
    private final SimulatedPlant plant = new SimulatedPlant(1);
    private final List<Outputs> written = new CopyOnWriteArrayList<>();

    @Test
    void toldToEnd_switchesTheMotorOff_thenKeepsTheRecord_thenGivesTheFolderBack()
            throws Exception {
        Configuration settings =
                Patience.with(
                        ConfigurationFile.read(
                                        "test",
                                        """
                                bench: { dataFolder: data }
                                broker: { host: 127.0.0.1, port: 1 }
                                """,
                                        folder)
                                .withEverySensor());
        Actuators actuators =
                outputs -> {
                    written.add(outputs);
                    plant.write(outputs);
                };
        long yesterday_ms = System.currentTimeMillis() - Duration.ofDays(1).toMillis();
        Controller controller =
                new Controller(
                        settings,
                        new Controller.Bench(
                                false,
                                vouchedFor(new SystemClock()),
                                ControlLoop.REAL_TIME,
                                plant,
                                actuators,
                                null,
                                ProofRecord.earlier(yesterday_ms, true, 0)),
                        status -> {});
        controller.start();
        await(() -> seen(controller) == State.IDLE && !against(controller, "JAR-LEFT-BEHIND"));
        controller.panel().act(() -> plant.jar(1, true));
        controller.panel().act(plant::rearm);
        controller.panel().choose(Choice.ACKNOWLEDGE_CAUTIONS);
        await(() -> ready(controller));
        controller.panel().press(Command.START);
        await(() -> last().driveOn());

        controller.close();

        assertThat(last()).isEqualTo(Outputs.SAFE);
        assertThat(controller.awaitEnd()).as("ended because it was asked to").isTrue();
        try (OutboxFile file = OutboxFile.open(settings.dataFolder().resolve("outbox.db"))) {
            assertThat(file.recover().cycles()).as("nothing was left open").isEmpty();
            byte[] payload =
                    file.unreleased(0, 100).stream()
                            .filter(row -> row.kind() == Topics.Kind.CYCLE)
                            .findFirst()
                            .orElseThrow()
                            .payload();
            CycleRecord record = Messages.read(payload, CycleRecord.class);
            assertThat(record.outcome()).isEqualTo(Outcome.STOPPED);
            assertThat(record.endedBy()).isEqualTo("SHUTTING-DOWN");
            assertThat(record.simulated()).isFalse();
        }
    }

    private static State seen(Controller controller) {
        Status status = controller.status();
        return status == null ? null : status.state();
    }

    private static boolean against(Controller controller, String tag) {
        return controller.status().againstStart().stream().anyMatch(row -> row.tag().equals(tag));
    }

    private static boolean ready(Controller controller) {
        Status status = controller.status();
        return status != null && status.againstStart().isEmpty();
    }

    private Outputs last() {
        return written.isEmpty() ? Outputs.SAFE : written.get(written.size() - 1);
    }

    private static void await(java.util.concurrent.Callable<Boolean> wanted) {
        Awaitility.await().atMost(SOON).pollInterval(Duration.ofMillis(20)).until(wanted);
    }

    private static Clock vouchedFor(Clock clock) {
        return new Clock() {
            @Override
            public long uptime_ns() {
                return clock.uptime_ns();
            }

            @Override
            public long wallClock_ms() {
                return clock.wallClock_ms();
            }

            @Override
            public boolean synchronised() {
                return true;
            }
        };
    }
}
