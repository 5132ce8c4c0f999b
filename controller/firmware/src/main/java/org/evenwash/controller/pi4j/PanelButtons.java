package org.evenwash.controller.pi4j;

import java.util.EnumMap;
import java.util.Map;
import org.evenwash.controller.pi4j.Lines.InputLine;
import org.evenwash.controller.pi4j.PinMap.Pin;
import org.evenwash.controller.port.Panel;
import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.Interlock.Clears;
import org.evenwash.controller.process.Job;
import org.evenwash.controller.process.State;
import org.evenwash.controller.process.Status;

/**
 * The buttons at the bench. START means what the machine waits for: RESET after an end or a trip that wants one, RESTART
 * while held, else START. ACKNOWLEDGE means what waits to be acknowledged, and otherwise silences the sounder.
 *
 * <p>A meaning is fixed at the moment of pressing and stays until the button is released: whoever keeps START down after an
 * end resets the machine and does not start it.
 */
final class PanelButtons implements Panel {
    private static final class Button {
        private final Pin pin;
        private final InputLine line;
        private boolean down;
        private boolean wasDown;

        Button(Pin pin, InputLine line) {
            this.pin = pin;
            this.line = line;
            drain(); // taking a line with its pull may itself look like a press
        }

        /** Down now, or pressed and released since the last look: the kernel keeps the edges. */
        void look() {
            wasDown = down;
            boolean moved = drain();
            boolean tapped = moved && !wasDown;
            down = tapped || pin.isActive(line.level());
        }

        private boolean drain() {
            boolean moved = false;
            while (line.awaitEdge(0) != InputLine.NO_EDGE) {
                moved = true;
            }
            return moved;
        }

        boolean pressedNow() {
            return down && !wasDown;
        }
    }

    private static final Map<Signal, Choice> CHOICES =
            new EnumMap<>(
                    Map.of(
                            Signal.SAME_JAR_BUTTON, Choice.SAME_JAR_AGAIN,
                            Signal.SECOND_WASH_BUTTON, Choice.SECOND_WASH,
                            Signal.PROOF_TEST_BUTTON, Choice.PROOF_TEST));

    private final Map<Signal, Button> buttons = new EnumMap<>(Signal.class);
    private Command start = Command.NONE;
    private Choice acknowledge = Choice.NONE;
    private volatile Status shown;

    PanelButtons(Lines lines, PinMap map) {
        for (Pin pin : map.pins()) {
            if (pin.signal().kind() == Signal.Kind.BUTTON) {
                InputLine line =
                        lines.input(pin.gpio(), pin.pull(), "evenwash " + pin.signal().title());
                buttons.put(pin.signal(), new Button(pin, line));
            }
        }
    }

    /** Looks at all buttons once; {@link #choice} answers from the same look. STOP goes before HOLD before START. */
    @Override
    public Command command() {
        buttons.values().forEach(Button::look);
        Button button = buttons.get(Signal.START_BUTTON);
        if (button.pressedNow()) {
            start = meaningOfStart();
        }
        if (buttons.get(Signal.STOP_BUTTON).down) {
            return Command.STOP;
        }
        if (down(Signal.HOLD_BUTTON)) {
            return Command.HOLD;
        }
        return button.down ? start : Command.NONE;
    }

    @Override
    public Choice choice() {
        Button button = buttons.get(Signal.ACKNOWLEDGE_BUTTON);
        if (button.pressedNow()) {
            acknowledge = meaningOfAcknowledge();
        }
        if (button.down) {
            return acknowledge;
        }
        for (Map.Entry<Signal, Choice> choice : CHOICES.entrySet()) {
            if (down(choice.getKey())) {
                return choice.getValue();
            }
        }
        return Choice.NONE;
    }

    private boolean down(Signal signal) {
        Button button = buttons.get(signal);
        return button != null && button.down;
    }

    private Command meaningOfStart() {
        Status now = shown;
        if (now == null) {
            return Command.NONE;
        }
        boolean wantsReset =
                now.tripped().stream().anyMatch(row -> row.clears() == Clears.ON_RESET);
        if (now.state().ended() || wantsReset) {
            return Command.RESET;
        }
        return now.state() == State.HELD ? Command.RESTART : Command.START;
    }

    private Choice meaningOfAcknowledge() {
        if (waits("CAUTIONS")) {
            return Choice.ACKNOWLEDGE_CAUTIONS;
        }
        return waits("SPIRIT-WARM") ? Choice.ACKNOWLEDGE_WARM_SPIRIT : Choice.SILENCE;
    }

    private boolean waits(String tag) {
        Status now = shown;
        return now != null
                && (now.againstStart().stream().anyMatch(row -> row.tag().equals(tag))
                        || now.tripped().stream().anyMatch(row -> row.tag().equals(tag)));
    }

    /** Buttons carry no job. */
    @Override
    public Job job() {
        return Job.NONE;
    }

    /** What the buttons mean depends on what the machine shows; lamps and sounder are outputs of the scan. */
    @Override
    public void show(Status status) {
        shown = status;
    }
}
