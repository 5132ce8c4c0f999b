package org.evenwash.controller.pi4j.bench;

import static org.evenwash.controller.pi4j.bench.Claims.same;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.concurrent.locks.LockSupport;
import org.evenwash.controller.pi4j.Level;
import org.evenwash.controller.pi4j.Signal;
import org.evenwash.controller.process.Interlocks;

/** The shipped program at a bench of simulated wires: whole cycles, every contact that must stop them, and its own death. */
final class CycleScenarios {
    private static final Duration AT_ONCE = Duration.ofSeconds(6);
    private static final Duration CYCLE = Duration.ofSeconds(90);

    private static final int A_WHILE_SCANS = 100;

    private final Scenarios scenarios;
    private final BenchAndHand bench;

    private CycleScenarios(Scenarios scenarios, BenchAndHand bench) {
        this.scenarios = scenarios;
        this.bench = bench;
    }

    /** A cycle is under way when this returns. */
    static BenchAndHand untilAgitating(Path lines, Path data) throws IOException {
        BenchAndHand bench = new BenchAndHand(lines, data);
        bench.powerOn();
        bench.prepare();
        bench.start();
        return bench;
    }

    /** Runs them all; the data folder is that of a program whose power was cut in the middle of a cycle. */
    static void run(Scenarios scenarios, Path lines, Path data) throws IOException {
        try (BenchAndHand bench = new BenchAndHand(lines, data)) {
            new CycleScenarios(scenarios, bench).runAll();
        }
    }

    private interface Deed {
        void now();
    }

    /** Runs one and leaves the bench ready for the next, whatever came of it. */
    private void run(String name, Scenarios.Body body) {
        scenarios.run(
                name,
                () -> {
                    try {
                        body.run();
                    } catch (Exception | AssertionError e) {
                        tidyUpAfter(e);
                        throw e;
                    }
                    bench.tidyUp();
                });
    }

    private void tidyUpAfter(Throwable failure) {
        try {
            bench.tidyUp();
        } catch (RuntimeException | AssertionError e) {
            failure.addSuppressed(e);
        }
    }

    private void runAll() {
        scenarios.run("powerCutInTheMiddleOfACycle_leavesItInterrupted", this::afterThePowerCut);
        scenarios.run("guidedProofTest_passesOnTheStopChain", bench::prepare);
        run("wholeCycle_completes", this::wholeCycle);
        row("E-STOP", "ABORTED", () -> bench.eStop(true));
        row("LID-OPEN", "HELD", () -> bench.lid(false));
        row("GUARD-OPEN", "HELD", () -> bench.guard(false));
        row("JAR-MISSING", "HELD", () -> bench.wires.set(Signal.JAR_1, false));
        row("DRIVER-FAULT", "ABORTED", () -> bench.wires.set(Signal.DRIVER, false));
        row("SUPPLY-OFF", "HELD", this::supplyDrops);
        row("STALL", "ABORTED", () -> bench.shaft.block(true));
        run("whileRunning_CONTACTOR-WELDED", this::weldedBehindTheLid);
        stopped("inIdle", () -> {});
        stopped("whileResting", this::untilResting);
        stopped("whileHolding", () -> started(() -> bench.wires.set(Signal.HOLD_BUTTON, true)));
        stopped("whileHeld", this::untilHeld);
        stopped("whileRestarting", this::restarting);
        stopped("whileStopping", () -> started(() -> bench.wires.set(Signal.STOP_BUTTON, true)));
        stopped("inStopped", this::untilStopped);
        stopped("inAborted", this::untilAborted);
        stopped("inComplete", () -> started(() -> bench.controller.awaitState("COMPLETE", CYCLE)));
        run("closingTheLid_restartsNothing_untilReArmedAndRestarted", this::lidClosedAgain);
        run("hungProgram_losesItsHeartbeatAndTheSupply", this::hangs);
        scenarios.run("terminated_endsItsRecordWithTheMotorOff", this::terminated);
        scenarios.run("killedInTheMiddleOfACycle_leavesItInterrupted", this::killed);
    }

    private void afterThePowerCut() throws IOException {
        bench.powerOn();
        same("state", "IDLE", bench.controller.state());
        bench.awaitSaid("INTERRUPTED");
        same("drive enable", Level.LOW, bench.level(Signal.DRIVE_ENABLE));
    }

    private void wholeCycle() {
        bench.chain.longestSilence_ms();
        bench.start();
        same("permit", Level.HIGH, bench.level(Signal.SUPPLY_PERMIT));
        same("direction", Level.LOW, bench.level(Signal.DRIVE_REVERSE));
        same("heartbeats in a second", true, bench.heartbeats(Duration.ofSeconds(1)) > 20);
        bench.awaitDriveOff(CYCLE);
        bench.awaitSaid("RUNNING bout 2");
        bench.awaitTurning();
        same("direction of the second bout", Level.HIGH, bench.level(Signal.DRIVE_REVERSE));
        bench.controller.awaitState("COMPLETE", CYCLE);
        bench.awaitDriveOff(AT_ONCE);
        scenarios.note(
                "longest silence of the heartbeat in a cycle, in the emulator: %d ms"
                        .formatted(bench.chain.longestSilence_ms()));
    }

    /** One interlock row while RUNNING: the drive goes off at once, the state is the row's, the cause is named. */
    private void row(String tag, String state, Deed violation) {
        run(
                "whileRunning_" + tag,
                () -> {
                    bench.start();
                    bench.idle(A_WHILE_SCANS);
                    bench.controller.forget();
                    long begun_ns = System.nanoTime();
                    violation.now();
                    bench.awaitDriveOff(tag.equals("STALL") ? BenchAndHand.SOON : AT_ONCE);
                    long off_ms = (System.nanoTime() - begun_ns) / 1_000_000;
                    bench.controller.awaitState(state, BenchAndHand.SOON);
                    bench.awaitSaid("because of " + tag);
                    scenarios.note("drive off after %d ms, in the emulator".formatted(off_ms));
                });
    }

    /** The lid is the first cause and is kept; the prompt names the weld all the same. */
    private void weldedBehindTheLid() {
        bench.start();
        bench.controller.forget();
        bench.chain.weld(true);
        bench.lid(false);
        bench.awaitDriveOff(AT_ONCE);
        bench.controller.awaitState("ABORTED", BenchAndHand.SOON);
        bench.awaitSaid("because of LID-OPEN");
        bench.awaitSaid(Interlocks.row("CONTACTOR-WELDED").remedy());
    }

    /** The chain drops although no contact that the controller sees has opened: a fuse, a loose wire. */
    private void supplyDrops() {
        bench.chain.contacts(false);
        bench.awaitContactorOpen();
        bench.chain.contacts(true);
    }

    /** The emergency stop in some state: drive off, contactor open, ABORTED. */
    private void stopped(String when, Deed before) {
        run(
                "emergencyStop_" + when,
                () -> {
                    before.now();
                    String state = bench.controller.state();
                    bench.eStop(true);
                    bench.awaitDriveOff(AT_ONCE);
                    bench.controller.awaitState("ABORTED", BenchAndHand.SOON);
                    Wires.await("contactor open", AT_ONCE, () -> !bench.chain.closed());
                    same("permit", Level.LOW, bench.level(Signal.SUPPLY_PERMIT));
                    scenarios.note("pressed in " + state);
                });
    }

    private void started(Deed then) {
        bench.start();
        then.now();
        LockSupport.parkNanos(Duration.ofMillis(150).toNanos());
    }

    private void untilResting() {
        bench.start();
        bench.awaitDriveOff(CYCLE);
    }

    private void untilHeld() {
        bench.start();
        bench.press(Signal.HOLD_BUTTON);
        bench.controller.awaitState("HELD", BenchAndHand.SOON);
    }

    private void restarting() {
        untilHeld();
        bench.wires.set(Signal.START_BUTTON, true);
        LockSupport.parkNanos(Duration.ofMillis(50).toNanos());
        bench.wires.set(Signal.START_BUTTON, false);
    }

    private void untilStopped() {
        bench.start();
        bench.press(Signal.STOP_BUTTON);
        bench.controller.awaitState("STOPPED", BenchAndHand.SOON);
    }

    private void untilAborted() {
        bench.start();
        bench.wires.set(Signal.DRIVER, false);
        bench.controller.awaitState("ABORTED", BenchAndHand.SOON);
    }

    private void lidClosedAgain() {
        bench.start();
        bench.lid(false);
        bench.controller.awaitState("HELD", BenchAndHand.SOON);
        bench.lid(true);
        bench.idle(A_WHILE_SCANS);
        same("state with the lid closed again", "HELD", bench.controller.state());
        same("contactor", false, bench.chain.closed());
        bench.arm();
        bench.idle(A_WHILE_SCANS);
        same("state when re-armed", "HELD", bench.controller.state());
        same("drive enable when re-armed", Level.LOW, bench.level(Signal.DRIVE_ENABLE));
        bench.start();
    }

    private void hangs() throws IOException, InterruptedException {
        bench.start();
        bench.controller.signal("STOP");
        Wires.await("one-shot opens the contactor", BenchAndHand.SOON, () -> !bench.chain.closed());
        same("heartbeats in a second", 0, bench.heartbeats(Duration.ofSeconds(1)));
        Wires.await("shaft stands", BenchAndHand.SOON, () -> bench.shaft.speed_rpm() == 0);
        LockSupport.parkNanos(Duration.ofSeconds(3).toNanos());
        bench.controller.signal("CONT");
        bench.awaitDriveOff(AT_ONCE);
        bench.awaitSaid("because of ");
    }

    private void terminated() throws IOException, InterruptedException {
        bench.start();
        bench.controller.signal("TERM");
        bench.awaitDriveOff(Duration.ofSeconds(10));
        int code = bench.controller.awaitEnd(Duration.ofSeconds(30));
        scenarios.note("exit code " + code);
        same("permit", Level.LOW, bench.level(Signal.SUPPLY_PERMIT));
        same("duty", true, bench.shaft.duty() == 0);
        bench.powerOn();
        same("interrupted cycles", false, bench.controller.said("INTERRUPTED"));
        bench.press(Signal.ACKNOWLEDGE_BUTTON);
        bench.changeJar();
    }

    private void killed() throws IOException, InterruptedException {
        bench.start();
        bench.controller.signal("KILL");
        bench.controller.awaitEnd(BenchAndHand.SOON);
        Wires.await("one-shot opens the contactor", BenchAndHand.SOON, () -> !bench.chain.closed());
        Wires.await("shaft stands", BenchAndHand.SOON, () -> bench.shaft.speed_rpm() == 0);
        bench.powerOn();
        bench.awaitSaid("INTERRUPTED");
        bench.idle(A_WHILE_SCANS);
        same("state", "IDLE", bench.controller.state());
        same("drive enable", Level.LOW, bench.level(Signal.DRIVE_ENABLE));
        same("duty", true, bench.shaft.duty() == 0);
    }
}
