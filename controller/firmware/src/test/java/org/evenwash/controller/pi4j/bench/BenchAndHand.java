package org.evenwash.controller.pi4j.bench;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import org.evenwash.controller.pi4j.Level;
import org.evenwash.controller.pi4j.PinMap;
import org.evenwash.controller.pi4j.Signal;

/** A bench at rest with a jar in it, its stop chain and shaft, and the hand that works it. */
final class BenchAndHand implements AutoCloseable {
    static final Duration SOON = Duration.ofSeconds(40);

    /** A third of a second of the controller's own time: beyond every persistence of a contact and one look of the panel. */
    private static final int PRESS_SCANS = 30;

    private static final int JAR_OUT_SCANS = 100;
    private static final Path MONITOR_REGISTERS =
            Path.of("/sys/module/bench_i2c/parameters/registers");
    private static final Path CLOCK_IS_SET = Path.of("/run/systemd/timesync/synchronized");

    final Wires wires;
    final StopChain chain;
    final Shaft shaft;
    private final Path settings;
    ControllerProcess controller;

    BenchAndHand(Path lines, Path data) throws IOException {
        Files.createDirectories(CLOCK_IS_SET.getParent());
        Files.writeString(CLOCK_IS_SET, "");
        Files.writeString(MONITOR_REGISTERS, "0,4000,9600,0"); // 1 A over 10 mΩ; 12 V
        settings = ControllerProcess.configure(data.resolve("bench"));
        wires = new Wires(lines);
        for (PinMap.Pin pin : PinMap.DEFAULT.pins()) {
            if (pin.signal().kind().isInput()) {
                wires.set(pin.signal(), pin.signal().activeAtRest());
            }
        }
        chain = new StopChain(wires);
        shaft = new Shaft(wires, chain);
    }

    /** Starts the program and waits until it shows IDLE and its heart beats. */
    void powerOn() throws IOException {
        controller = ControllerProcess.start(settings);
        controller.awaitState("IDLE", Duration.ofMinutes(2));
        chain.awaitBeats(PRESS_SCANS);
    }

    /** What a person does once after start-up: arms the supply, reads the cautions, changes the jar, proves the chain. */
    void prepare() {
        arm();
        press(Signal.ACKNOWLEDGE_BUTTON);
        changeJar();
        proofTest();
    }

    /** Follows the prompts of the guided test to its end. */
    private void proofTest() {
        controller.forget();
        press(Signal.PROOF_TEST_BUTTON);
        asked("Press the emergency stop.", () -> eStop(true));
        asked("Release the emergency stop.", () -> eStop(false));
        asked("Press RESET here", this::resetAndArm);
        asked("Open the lid.", () -> lid(false));
        asked("Close the lid.", () -> lid(true));
        asked("Re-arm the motor supply.", chain::rearm);
        asked("the heartbeat is back", () -> {});
        asked("Re-arm the motor supply.", this::arm);
        asked("Proof test passed.", () -> {});
    }

    /** Waits for a prompt and does it. */
    private void asked(String prompt, Runnable deed) {
        awaitSaid(prompt);
        controller.forget();
        deed.run();
    }

    private void resetAndArm() {
        press(Signal.START_BUTTON);
        controller.awaitState("IDLE", SOON);
        arm();
    }

    /** Re-arms the supply; the contactor must hold. */
    void arm() {
        chain.rearm();
        chain.awaitBeats(PRESS_SCANS);
        if (!chain.closed()) {
            throw new AssertionError("the contactor does not stay closed");
        }
    }

    void awaitContactorOpen() {
        Wires.await("contactor opens", SOON, () -> !chain.closed());
    }

    void awaitSaid(String words) {
        Wires.await(
                "'" + words + "'; it says: " + controller.tail(),
                SOON,
                () -> controller.said(words));
    }

    void press(Signal button) {
        wires.set(button, true);
        chain.awaitBeats(PRESS_SCANS);
        wires.set(button, false);
        pause();
    }

    /** Long enough for the controller to see what was done, and to show it to itself. */
    private void pause() {
        chain.awaitBeats(PRESS_SCANS);
    }

    void eStop(boolean pressed) {
        wires.set(Signal.E_STOP, !pressed);
        chain.contacts(!pressed);
    }

    void lid(boolean shut) {
        wires.set(Signal.LID, shut);
        chain.contacts(shut);
    }

    void guard(boolean inPlace) {
        wires.set(Signal.GUARD, inPlace);
        chain.contacts(inPlace);
    }

    /** Opens the lid, takes the jar out and puts one in: what must happen between two cycles. */
    void changeJar() {
        lid(false);
        pause();
        wires.set(Signal.JAR_1, false);
        chain.awaitBeats(JAR_OUT_SCANS);
        wires.set(Signal.JAR_1, true);
        pause();
        lid(true);
        pause();
        arm();
    }

    /**
     * Presses START and waits until the shaft turns. Without a thermometer the spirit counts as warm, and each cycle needs
     * its own yes.
     */
    void start() {
        press(Signal.ACKNOWLEDGE_BUTTON);
        controller.forget();
        press(Signal.START_BUTTON);
        awaitTurning();
    }

    /** Waits a number of the controller's scans. */
    void idle(int scans) {
        chain.awaitBeats(scans);
    }

    void awaitTurning() {
        Wires.await(
                "shaft turns; it says: " + controller.tail(),
                SOON,
                () -> shaft.driven() && shaft.speed_rpm() > 50);
    }

    /** The driver's inputs are off: enable low or no duty. */
    void awaitDriveOff(Duration limit) {
        Wires.await(
                "drive off",
                limit,
                () -> level(Signal.DRIVE_ENABLE) == Level.LOW && shaft.duty() == 0);
    }

    /** Ends what is left of a cycle and makes the bench ready for the next. */
    void tidyUp() {
        eStop(false);
        guard(true);
        lid(true);
        wires.set(Signal.DRIVER, true);
        wires.set(Signal.JAR_1, true);
        wires.set(Signal.HOLD_BUTTON, false);
        wires.set(Signal.STOP_BUTTON, false);
        chain.weld(false);
        shaft.block(false);
        shaft.force(0);
        for (int tries = 0; tries < 12 && !controller.state().equals("IDLE"); tries++) {
            press(ended() ? Signal.START_BUTTON : Signal.STOP_BUTTON);
            pause();
        }
        controller.awaitState("IDLE", SOON);
        changeJar();
    }

    private boolean ended() {
        return controller.state().matches("STOPPED|ABORTED|COMPLETE");
    }

    Level level(Signal signal) {
        return wires.level(gpio(signal));
    }

    private static int gpio(Signal signal) {
        return PinMap.DEFAULT.pin(signal).orElseThrow().gpio();
    }

    int heartbeats(Duration stretch) {
        return wires.changes(gpio(Signal.HEARTBEAT), stretch);
    }

    @Override
    public void close() {
        if (controller != null) {
            controller.close();
        }
        shaft.close();
        chain.close();
        wires.close();
    }
}
