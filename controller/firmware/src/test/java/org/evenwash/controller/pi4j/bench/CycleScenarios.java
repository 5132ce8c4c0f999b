package org.evenwash.controller.pi4j.bench;

import static org.evenwash.controller.pi4j.bench.Claims.same;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.locks.LockSupport;
import org.evenwash.controller.pi4j.Level;
import org.evenwash.controller.pi4j.Signal;
import org.evenwash.controller.process.Interlocks;

/** The shipped program at a bench of simulated wires: whole cycles, every contact that must stop them, and its own death. */
final class CycleScenarios {
    private static final Duration AT_ONCE = Duration.ofSeconds(6);
    private static final Duration CYCLE = Duration.ofSeconds(90);

    private static final int A_WHILE_SCANS = 100;

    /** The program's two or three scans, and the looking of whoever plays the bench. */
    private static final long A_FEW_SCANS_ms = 80;

    private final Scenarios scenarios;
    private final BenchAndHand bench;

    private CycleScenarios(Scenarios scenarios, BenchAndHand bench) {
        this.scenarios = scenarios;
        this.bench = bench;
    }

    /** Runs them all, leaves a cycle under way and returns the bench with it. */
    static BenchAndHand run(Scenarios scenarios, Path lines, Path data) throws IOException {
        BenchAndHand bench = new BenchAndHand(lines, data);
        new CycleScenarios(scenarios, bench).runAll();
        return bench;
    }

    /** What a program finds whose board lost its power in the middle of a cycle. */
    static void afterThePowerCut(Scenarios scenarios, Path lines, Path data) throws IOException {
        try (BenchAndHand bench = new BenchAndHand(lines, data)) {
            CycleScenarios after = new CycleScenarios(scenarios, bench);
            scenarios.run("powerCutInTheMiddleOfACycle_leavesItInterrupted", after::interrupted);
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
        scenarios.run("coldStart_standsInIdle", bench::powerOn);
        scenarios.run("guidedProofTest_passesOnTheStopChain", bench::prepare);
        run("wholeCycle_completes", this::wholeCycle);
        row("E-STOP", "ABORTED", () -> bench.eStop(true));
        row("LID-OPEN", "HELD", () -> bench.lid(false));
        row("GUARD-OPEN", "HELD", () -> bench.guard(false));
        row("JAR-MISSING", "HELD", () -> bench.wires.set(Signal.JAR_1, false));
        row("DRIVER-FAULT", "ABORTED", this::driverFault);
        row("SUPPLY-OFF", "HELD", this::supplyDrops);
        shaft("STALL", "ABORTED", () -> bench.shaft.block(true));
        shaft("OVERSPEED", "ABORTED", () -> bench.shaft.force(380));
        // Far above the band: a pulse that the emulator brings late reads as a slower shaft.
        shaft("SPEED-BAND", "HELD", () -> bench.shaft.force(260));
        run("whileRunning_CONTACTOR-WELDED", this::weldedBehindTheLid);
        run("afterAHold_MOTOR-RUNAWAY", this::turnsOn);
        stopped("inIdle", "IDLE", () -> {});
        stopped("whileResting", "RUNNING bout 1 of 2, rest", this::untilResting);
        stopped("whileHeld", "HELD", this::untilHeld);
        stopped("inStopped", "STOPPED", this::untilStopped);
        stopped("inComplete", "COMPLETE", this::untilComplete);
        caught("HOLDING", () -> bench.wires.set(Signal.HOLD_BUTTON, true));
        caught("STOPPING", () -> bench.wires.set(Signal.STOP_BUTTON, true));
        caught("ABORTING", this::driverFault);
        run("emergencyStop_whileRestarting", this::stoppedWhileRestarting);
        run("emergencyStop_inAborted_keepsItFromBeingReset", this::stoppedInAborted);
        run("closingTheLid_restartsNothing_untilReArmedAndRestarted", this::lidClosedAgain);
        run("hungProgram_losesItsHeartbeatAndTheSupply", this::hangs);
        scenarios.run("terminated_endsItsRecordWithTheMotorOff", this::terminated);
        run("killedInTheMiddleOfACycle_leavesItInterrupted", this::killed);
        scenarios.run("cycleUnderWay_whenThePowerGoes", bench::start);
    }

    private void interrupted() throws IOException {
        bench.powerOn();
        same("state", "IDLE", bench.controller.state());
        bench.awaitSaid("INTERRUPTED");
        same("drive enable", Level.LOW, bench.level(Signal.DRIVE_ENABLE));
        same("duty", true, bench.shaft.duty() == 0);
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

    /** One row of a contact while RUNNING: the drive goes off when its persistence is over, and soon then. */
    private void row(String tag, String state, Deed violation) {
        run(
                "whileRunning_" + tag,
                () -> {
                    long off_ms = violated(tag, state, violation);
                    long persists_ms = Interlocks.row(tag).persists().toMillis();
                    boolean inTime =
                            off_ms >= persists_ms && off_ms <= persists_ms + A_FEW_SCANS_ms;
                    same(off_ms + " ms, when it persists " + persists_ms + " ms", true, inTime);
                });
    }

    /** One row of the tachometer while RUNNING: a shaft takes its own time to change its speed. */
    private void shaft(String tag, String state, Deed violation) {
        run("whileRunning_" + tag, () -> violated(tag, state, violation));
    }

    /** The drive goes off, the state is the row's, the cause is named; how long the drive took, in milliseconds. */
    private long violated(String tag, String state, Deed violation) {
        bench.start();
        bench.idle(A_WHILE_SCANS);
        bench.controller.forget();
        long begun_ns = System.nanoTime();
        violation.now();
        bench.awaitDriveOff(AT_ONCE);
        long off_ms = (System.nanoTime() - begun_ns) / 1_000_000;
        bench.controller.awaitState(state, BenchAndHand.SOON);
        bench.awaitSaid("because of " + tag);
        scenarios.note("drive off after %d ms, in the board's time".formatted(off_ms));
        return off_ms;
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

    private void driverFault() {
        bench.wires.set(Signal.DRIVER, false);
    }

    /** Held by the operator, and the driver is stuck on: the hold stays the first cause, the prompt names the driver. */
    private void turnsOn() {
        bench.start();
        bench.controller.forget();
        bench.shaft.force(100);
        bench.press(Signal.HOLD_BUTTON);
        bench.controller.awaitState("ABORTED", BenchAndHand.SOON);
        bench.awaitSaid(Interlocks.row("MOTOR-RUNAWAY").remedy());
        bench.awaitContactorOpen();
        same("permit", Level.LOW, bench.level(Signal.SUPPLY_PERMIT));
    }

    /** The emergency stop in a state that lasts. */
    private void stopped(String when, String line, Deed before) {
        run(
                "emergencyStop_" + when,
                () -> {
                    before.now();
                    bench.controller.forget();
                    String shown = bench.controller.line();
                    same("'" + shown + "' begins with " + line, true, shown.startsWith(line));
                    bench.eStop(true);
                    stoppedFrom(bench.controller.state());
                });
    }

    /** The emergency stop in a state that ends by itself: pressed within the scan in which it begins. */
    private void caught(String state, Deed before) {
        run(
                "emergencyStop_while"
                        + state.charAt(0)
                        + state.substring(1).toLowerCase(Locale.ROOT),
                () -> {
                    bench.start();
                    bench.controller.when(state, () -> bench.eStop(true));
                    before.now();
                    stoppedFrom(state);
                });
    }

    /** From HELD, through the one scan that RESTARTING lasts. */
    private void stoppedWhileRestarting() {
        untilHeld();
        bench.controller.when("RESTARTING", () -> bench.eStop(true));
        bench.press(Signal.START_BUTTON);
        stoppedFrom("RESTARTING");
    }

    /** ABORTED by another cause; the emergency stop that is pressed then must be released before the bench is ready again. */
    private void stoppedInAborted() {
        bench.start();
        driverFault();
        bench.controller.awaitState("ABORTED", BenchAndHand.SOON);
        bench.eStop(true);
        bench.wires.set(Signal.DRIVER, true);
        bench.press(Signal.START_BUTTON);
        same("state with the stop pressed", "ABORTED", bench.controller.state());
        bench.eStop(false);
        bench.press(Signal.START_BUTTON);
        bench.controller.awaitState("IDLE", BenchAndHand.SOON);
    }

    /** Drive and contactor off, and no other state between this one and ABORTING. */
    private void stoppedFrom(String state) {
        bench.awaitDriveOff(AT_ONCE);
        bench.controller.awaitState("ABORTED", BenchAndHand.SOON);
        bench.awaitContactorOpen();
        same("permit", Level.LOW, bench.level(Signal.SUPPLY_PERMIT));
        List<String> states = bench.controller.states();
        String path = String.join(" > ", states);
        String wanted =
                state.equals("ABORTING") ? "ABORTING > ABORTED" : state + " > ABORTING > ABORTED";
        same("path " + path + " ends with " + wanted, true, path.endsWith(wanted));
        scenarios.note("states: " + path);
    }

    private void untilResting() {
        bench.start();
        bench.awaitSaid("RUNNING bout 1 of 2, rest");
    }

    private void untilHeld() {
        bench.start();
        bench.controller.forget();
        bench.press(Signal.HOLD_BUTTON);
        bench.controller.awaitState("HELD", BenchAndHand.SOON);
    }

    private void untilStopped() {
        bench.start();
        bench.press(Signal.STOP_BUTTON);
        bench.controller.awaitState("STOPPED", BenchAndHand.SOON);
    }

    private void untilComplete() {
        bench.start();
        bench.controller.awaitState("COMPLETE", CYCLE);
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
        // The tachometer must have been seen to change before time stands still.
        bench.idle(A_WHILE_SCANS);
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
        interrupted();
        bench.press(Signal.ACKNOWLEDGE_BUTTON);
    }
}
