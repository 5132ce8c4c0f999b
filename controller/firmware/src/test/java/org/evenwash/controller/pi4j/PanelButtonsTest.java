package org.evenwash.controller.pi4j;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.List;
import java.util.concurrent.atomic.AtomicLong;
import org.evenwash.controller.port.Panel;
import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.Interlock;
import org.evenwash.controller.process.Interlocks;
import org.evenwash.controller.process.Job;
import org.evenwash.controller.process.Meaning;
import org.evenwash.controller.process.Sound;
import org.evenwash.controller.process.State;
import org.evenwash.controller.process.Status;
import org.evenwash.controller.process.Step;
import org.junit.jupiter.api.Test;

class PanelButtonsTest {
    private static final PinMap MAP = PinMap.DEFAULT;
    private static final long SCAN_ns = 10_000_000;

    private final FakeLines lines = FakeLines.atRest(MAP);
    private final AtomicLong now_ns = new AtomicLong();

    /** Each look at the buttons is a scan later. */
    private final PanelButtons buttons =
            new PanelButtons(lines, MAP, () -> now_ns.addAndGet(SCAN_ns));

    private void press(Signal signal) {
        hold(signal, true);
    }

    /** Lets go, and waits until the bounce is over. */
    private void release(Signal signal) {
        hold(signal, false);
        looks(6);
    }

    private void looks(int count) {
        for (int i = 0; i < count; i++) {
            buttons.pressed();
        }
    }

    private static int gpio(Signal signal) {
        return MAP.pin(signal).orElseThrow().gpio();
    }

    private void hold(Signal signal, boolean active) {
        PinMap.Pin pin = MAP.pin(signal).orElseThrow();
        lines.hold(pin.gpio(), pin.level(active));
    }

    private void shown(State state, List<Interlock> tripped, List<Interlock> againstStart) {
        buttons.show(
                new Status(
                        state,
                        Step.NONE,
                        null,
                        null,
                        List.of(),
                        0,
                        0,
                        Duration.ZERO,
                        Duration.ZERO,
                        Duration.ZERO,
                        Duration.ZERO,
                        0,
                        0,
                        Double.NaN,
                        Double.NaN,
                        Meaning.READY,
                        Sound.SILENT,
                        false,
                        null,
                        tripped,
                        againstStart,
                        List.of(),
                        ""));
    }

    private void shown(State state) {
        shown(state, List.of(), List.of());
    }

    private Command command() {
        return buttons.pressed().command();
    }

    private Choice choice() {
        Panel.Pressed pressed = buttons.pressed();
        assertThat(pressed.command()).isEqualTo(Command.NONE);
        return pressed.choice();
    }

    @Test
    void nothingPressed_isNothing() {
        shown(State.IDLE);
        assertThat(buttons.pressed()).isEqualTo(Panel.Pressed.NOTHING);
        assertThat(buttons.job()).isEqualTo(Job.NONE);
    }

    @Test
    void start_meansWhatTheMachineWaitsFor() {
        assertThat(pressed(State.IDLE)).isEqualTo(Command.START);
        assertThat(pressed(State.HELD)).isEqualTo(Command.RESTART);
        assertThat(pressed(State.COMPLETE)).isEqualTo(Command.RESET);
        assertThat(pressed(State.STOPPED)).isEqualTo(Command.RESET);
        assertThat(pressed(State.ABORTED)).isEqualTo(Command.RESET);
    }

    private Command pressed(State state) {
        shown(state);
        press(Signal.START_BUTTON);
        Command command = command();
        release(Signal.START_BUTTON);
        buttons.pressed();
        return command;
    }

    @Test
    void tripThatWantsAReset_isResetBeforeTheCycleGoesOn() {
        shown(State.HELD, List.of(Interlocks.row("MOTOR-HOT")), List.of());
        press(Signal.START_BUTTON);
        assertThat(command()).isEqualTo(Command.RESET);
    }

    @Test
    void startKeptDownAfterAnEnd_neverBecomesAStart() {
        shown(State.COMPLETE);
        press(Signal.START_BUTTON);
        assertThat(command()).isEqualTo(Command.RESET);
        shown(State.IDLE); // the reset was done, the finger is still there
        assertThat(command()).isEqualTo(Command.RESET);
        release(Signal.START_BUTTON);
        assertThat(command()).isEqualTo(Command.NONE);
        press(Signal.START_BUTTON);
        assertThat(command()).isEqualTo(Command.START);
    }

    @Test
    void startBeforeAnythingWasShown_isNothing() {
        press(Signal.START_BUTTON);
        assertThat(command()).isEqualTo(Command.NONE);
        shown(State.IDLE);
        assertThat(command()).as("a jammed button at power-on").isEqualTo(Command.NONE);
    }

    @Test
    void stop_isStrongerThanAllOthers() {
        shown(State.IDLE);
        press(Signal.START_BUTTON);
        press(Signal.HOLD_BUTTON);
        assertThat(command()).isEqualTo(Command.HOLD);
        press(Signal.STOP_BUTTON);
        assertThat(command()).isEqualTo(Command.STOP);
    }

    @Test
    void wireOfStopCut_stops_andAWireOfStartCutStartsNothing() {
        shown(State.IDLE);
        lines.cut(MAP.pin(Signal.START_BUTTON).orElseThrow().gpio());
        assertThat(command()).isEqualTo(Command.NONE);
        lines.cut(MAP.pin(Signal.STOP_BUTTON).orElseThrow().gpio());
        assertThat(command()).isEqualTo(Command.STOP);
    }

    @Test
    void acknowledge_meansWhatWaits_andElseSilence() {
        shown(
                State.IDLE,
                List.of(),
                List.of(Interlocks.row("CAUTIONS"), Interlocks.row("SPIRIT-WARM")));
        press(Signal.ACKNOWLEDGE_BUTTON);
        assertThat(choice()).isEqualTo(Choice.ACKNOWLEDGE_CAUTIONS);
        shown(State.IDLE, List.of(), List.of(Interlocks.row("SPIRIT-WARM")));
        assertThat(choice()).as("still the same press").isEqualTo(Choice.ACKNOWLEDGE_CAUTIONS);
        release(Signal.ACKNOWLEDGE_BUTTON);
        assertThat(choice()).isEqualTo(Choice.NONE);
        press(Signal.ACKNOWLEDGE_BUTTON);
        assertThat(choice()).isEqualTo(Choice.ACKNOWLEDGE_WARM_SPIRIT);
        release(Signal.ACKNOWLEDGE_BUTTON);
        assertThat(choice()).isEqualTo(Choice.NONE);
        shown(State.COMPLETE);
        press(Signal.ACKNOWLEDGE_BUTTON);
        assertThat(choice()).isEqualTo(Choice.SILENCE);
    }

    @Test
    void choices_haveAButtonEach() {
        shown(State.IDLE);
        press(Signal.PROOF_TEST_BUTTON);
        assertThat(choice()).isEqualTo(Choice.PROOF_TEST);
        release(Signal.PROOF_TEST_BUTTON);
        press(Signal.SAME_JAR_BUTTON);
        assertThat(choice()).isEqualTo(Choice.SAME_JAR_AGAIN);
        release(Signal.SAME_JAR_BUTTON);
        press(Signal.SECOND_WASH_BUTTON);
        assertThat(choice()).isEqualTo(Choice.SECOND_WASH);
    }

    @Test
    void pressShorterThanAScan_isKeptForOne() {
        shown(State.IDLE);
        assertThat(command()).isEqualTo(Command.NONE);
        lines.edge(gpio(Signal.SECOND_WASH_BUTTON), now_ns.get() + 1);
        lines.edge(gpio(Signal.SECOND_WASH_BUTTON), now_ns.get() + 2);
        assertThat(choice()).isEqualTo(Choice.SECOND_WASH);
        looks(6);
        assertThat(choice()).isEqualTo(Choice.NONE);
    }

    @Test
    void edgeOfReleasing_isNotAnotherPress() {
        shown(State.STOPPED);
        press(Signal.START_BUTTON);
        assertThat(command()).isEqualTo(Command.RESET);
        shown(State.IDLE);
        hold(Signal.START_BUTTON, false);
        lines.edge(gpio(Signal.START_BUTTON), now_ns.get() + 1);
        assertNeverAStart();
    }

    @Test
    void edgeOfReleasing_handedOverLate_isNotAnotherPress() {
        shown(State.STOPPED);
        press(Signal.START_BUTTON);
        assertThat(command()).isEqualTo(Command.RESET);
        shown(State.IDLE);
        long released_ns = now_ns.get() + 1;
        release(Signal.START_BUTTON);
        assertThat(command()).isEqualTo(Command.NONE);
        lines.edge(gpio(Signal.START_BUTTON), released_ns);
        assertNeverAStart();
    }

    @Test
    void bouncingContact_isOnePress() {
        shown(State.STOPPED);
        press(Signal.START_BUTTON);
        assertThat(command()).isEqualTo(Command.RESET);
        shown(State.IDLE); // done already: another press would be a START
        hold(Signal.START_BUTTON, false);
        assertThat(command()).as("open for a scan").isEqualTo(Command.RESET);
        hold(Signal.START_BUTTON, true);
        assertThat(command()).as("closed again").isEqualTo(Command.RESET);
        hold(Signal.START_BUTTON, false);
        looks(3);
        lines.edge(gpio(Signal.START_BUTTON), now_ns.get() + 1);
        assertNeverAStart();
    }

    private void assertNeverAStart() {
        for (int i = 0; i < 20; i++) {
            assertThat(command()).isNotEqualTo(Command.START);
        }
        assertThat(command()).isEqualTo(Command.NONE);
    }
}
