package org.evenwash.controller.pi4j.bench;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.concurrent.locks.LockSupport;
import org.evenwash.controller.pi4j.Level;
import org.evenwash.controller.pi4j.PinMap;
import org.evenwash.controller.pi4j.Signal;

/** A bench at rest with a jar in it, its stop chain and shaft, and the hand that works it. */
final class BenchAndHand implements AutoCloseable {
    static final Duration SOON = Duration.ofSeconds(20);
    private static final Duration PRESS = Duration.ofMillis(300);
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
        controller.awaitState("IDLE", Duration.ofSeconds(90));
        Wires.await("heartbeat", SOON, () -> wires.changes(gpio(Signal.HEARTBEAT), PRESS) > 2);
    }

    /** What a person does once after start-up: arms the supply, reads the cautions, changes the jar, proves the chain. */
    void prepare() {
        arm();
        press(Signal.ACKNOWLEDGE_BUTTON);
        changeJar();
        proofTest();
    }

    /**
     * Goes through the guided test by heart: the terminal tells a line for each change of state, not for each prompt. Each
     * wait is longer than the test's own settling time of that step; whether it passed, the next START shows.
     */
    void proofTest() {
        press(Signal.PROOF_TEST_BUTTON);
        seconds(1);
        eStop(true);
        controller.awaitState("ABORTED", SOON);
        awaitContactorOpen();
        seconds(2);
        eStop(false);
        seconds(4);
        press(Signal.START_BUTTON);
        controller.awaitState("IDLE", SOON);
        arm();
        lid(false);
        awaitContactorOpen();
        seconds(2);
        lid(true);
        seconds(4);
        chain.rearm();
        awaitContactorOpen(); // the controller lets its heartbeat stop
        seconds(6);
        arm();
    }

    /** Re-arms until the contactor has held for two seconds: on a loaded host a pause of the emulator may drop it. */
    private void arm() {
        for (int tries = 0; tries < 5; tries++) {
            chain.rearm();
            seconds(2);
            if (chain.closed()) {
                return;
            }
        }
        throw new AssertionError(
                "the contactor does not stay closed; is this machine too busy for the virtual bench?");
    }

    void awaitContactorOpen() {
        Wires.await("contactor opens", SOON, () -> !chain.closed());
    }

    static void seconds(int count) {
        LockSupport.parkNanos(Duration.ofSeconds(count).toNanos());
    }

    void awaitSaid(String words) {
        Wires.await(
                "'" + words + "'; it says: " + controller.tail(),
                SOON,
                () -> controller.said(words));
    }

    void press(Signal button) {
        wires.set(button, true);
        LockSupport.parkNanos(PRESS.toNanos());
        wires.set(button, false);
        LockSupport.parkNanos(PRESS.toNanos());
    }

    private void pause() {
        LockSupport.parkNanos(PRESS.toNanos());
    }

    void eStop(boolean pressed) {
        chain.contacts(!pressed);
        wires.set(Signal.E_STOP, !pressed);
    }

    void lid(boolean shut) {
        chain.contacts(shut);
        wires.set(Signal.LID, shut);
    }

    void guard(boolean inPlace) {
        chain.contacts(inPlace);
        wires.set(Signal.GUARD, inPlace);
    }

    /** Opens the lid, takes the jar out and puts one in: what must happen between two cycles. */
    void changeJar() {
        lid(false);
        pause();
        wires.set(Signal.JAR_1, false);
        LockSupport.parkNanos(Duration.ofSeconds(1).toNanos());
        wires.set(Signal.JAR_1, true);
        pause();
        lid(true);
        pause();
        chain.rearm();
    }

    /**
     * Presses START and waits until the shaft turns. Without a thermometer the spirit counts as warm, and each cycle needs
     * its own yes.
     */
    void start() {
        press(Signal.ACKNOWLEDGE_BUTTON);
        press(Signal.START_BUTTON);
        awaitTurning();
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
        for (int tries = 0; tries < 12 && !controller.state().equals("IDLE"); tries++) {
            press(ended() ? Signal.START_BUTTON : Signal.STOP_BUTTON);
            LockSupport.parkNanos(Duration.ofMillis(500).toNanos());
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
