package org.evenwash.demo;

import java.time.Duration;
import java.util.UUID;
import java.util.concurrent.locks.LockSupport;
import java.util.function.BooleanSupplier;
import org.evenwash.controller.SimulatedController;
import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.State;
import org.evenwash.controller.process.Step;
import org.evenwash.record.BenchState.LoadedTicket;

/**
 * What a person does at the bench, and the waiting for what the bench does next. Only then does the bench's time run fast: while
 * the story does something else it passes as ours does, so that a slow computer makes the day no longer.
 */
final class Hands {
    private static final Duration PATIENCE = Duration.ofSeconds(60);
    private static final long LOOK_AGAIN_NS = Duration.ofMillis(5).toNanos();

    private final SimulatedController bench;
    private final double speed;

    /**
     * @param speed of the bench's time while it is used
     */
    Hands(SimulatedController bench, double speed) {
        this.bench = bench;
        this.speed = speed;
    }

    private void atTheBench(Runnable deeds) {
        bench.pace(speed);
        deeds.run();
        check(bench.settle(PATIENCE), "the hands to be done");
        bench.pace(1);
    }

    void readTheCautions() {
        atTheBench(() -> bench.choose(Choice.ACKNOWLEDGE_CAUTIONS));
    }

    /** Waits until the bench has taken the ticket of this wash. */
    void awaitTicket(UUID washId) {
        until(
                "the ticket of wash " + washId + " to reach the bench",
                () -> bench.tickets().stream().map(LoadedTicket::washId).anyMatch(washId::equals));
    }

    void putJarIn() {
        atTheBench(
                () -> {
                    bench.insertJars().pause(Duration.ofSeconds(1)).closeLid();
                    bench.pause(Duration.ofSeconds(1)).rearm();
                });
    }

    void takeJarOut() {
        atTheBench(
                () -> {
                    bench.openLid().pause(Duration.ofSeconds(20));
                    bench.removeJars().pause(Duration.ofSeconds(2));
                });
    }

    void start() {
        atTheBench(
                () -> {
                    bench.press(Command.RESET).press(Command.START);
                    await(State.RUNNING);
                });
    }

    void awaitEnd() {
        atTheBench(() -> await(State.COMPLETE));
    }

    /** Lets it run into the second bout. */
    void awaitSecondBout() {
        atTheBench(
                () ->
                        check(
                                bench.await(
                                        now ->
                                                now.bout() == 2
                                                        && now.step() == Step.AGITATE
                                                        && turning(now.speed_rpm()),
                                        PATIENCE),
                                "the second bout"));
    }

    private static boolean turning(double speed_rpm) {
        return speed_rpm > 30;
    }

    /** Looks under the lid for a moment, and goes on. */
    void lookUnderTheLid() {
        atTheBench(
                () -> {
                    bench.openLid();
                    await(State.HELD);
                    bench.pause(Duration.ofSeconds(5)).closeLid();
                    bench.pause(Duration.ofSeconds(1)).rearm().press(Command.RESTART);
                    await(State.RUNNING);
                });
    }

    void stop() {
        atTheBench(
                () -> {
                    bench.press(Command.STOP);
                    await(State.STOPPED);
                });
    }

    /** Strikes the emergency stop, and makes the bench ready for the same jar again. */
    void emergencyStopAndRecover() {
        atTheBench(
                () -> {
                    bench.pressEStop();
                    await(State.ABORTED);
                    bench.pause(Duration.ofSeconds(10)).releaseEStop();
                    bench.pause(Duration.ofSeconds(1)).press(Command.RESET).rearm();
                    bench.choose(Choice.SAME_JAR_AGAIN);
                });
    }

    private void await(State wanted) {
        check(bench.await(wanted, PATIENCE), wanted.name());
    }

    private void check(boolean reached, String what) {
        if (!reached) {
            throw new IllegalStateException(
                    "waited %d s for %s; the bench stands in %s: %s"
                            .formatted(PATIENCE.toSeconds(), what, bench.state(), bench.status()));
        }
    }

    /** Looks again and again until it is so. */
    static void until(String what, BooleanSupplier so) {
        long end_ns = System.nanoTime() + PATIENCE.toNanos();
        while (!so.getAsBoolean()) {
            if (System.nanoTime() > end_ns) {
                throw new IllegalStateException(
                        "waited " + PATIENCE.toSeconds() + " s for " + what);
            }
            LockSupport.parkNanos(LOOK_AGAIN_NS);
        }
    }
}
