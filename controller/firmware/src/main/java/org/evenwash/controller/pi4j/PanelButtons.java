package org.evenwash.controller.pi4j;

import java.util.EnumMap;
import java.util.Map;
import org.evenwash.controller.pi4j.Lines.InputLine;
import org.evenwash.controller.pi4j.PinMap.Pin;
import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.State;
import org.evenwash.controller.process.Status;

/**
 * The buttons at the bench. START also means RESTART while the cycle is held; ACKNOWLEDGE means what is waiting to be
 * acknowledged, and otherwise silences the sounder; RESET held down while ACKNOWLEDGE is pressed asks for the proof test.
 */
public final class PanelButtons {
    private record Button(Pin pin, InputLine line) {
        /** Down now, or pressed and released since the last look: the kernel keeps the edges. */
        boolean pressed() {
            boolean down = pin.isActive(line.level());
            boolean moved = false;
            while (line.awaitEdge(0) != InputLine.NO_EDGE) {
                moved = true;
            }
            return down || moved;
        }
    }

    private final Map<Signal, Button> buttons = new EnumMap<>(Signal.class);
    private final Map<Signal, Boolean> pressed = new EnumMap<>(Signal.class);
    private volatile Status shown;

    PanelButtons(Lines lines, PinMap map) {
        for (Pin pin : map.pins()) {
            if (pin.signal().kind() == Signal.Kind.BUTTON) {
                buttons.put(
                        pin.signal(),
                        new Button(
                                pin,
                                lines.input(
                                        pin.gpio(),
                                        pin.pull(),
                                        "evenwash " + pin.signal().title())));
                pressed.put(pin.signal(), false);
            }
        }
    }

    /** Looks at all buttons once; {@link #command} and {@link #choice} answer from this look. */
    public void look() {
        buttons.forEach((signal, button) -> pressed.put(signal, button.pressed()));
    }

    /** What the buttons mean depends on what the machine shows. */
    public void show(Status status) {
        shown = status;
    }

    /** The strongest command whose button is down. */
    public Command command() {
        if (is(Signal.STOP_BUTTON)) {
            return Command.STOP;
        }
        if (is(Signal.HOLD_BUTTON)) {
            return Command.HOLD;
        }
        if (is(Signal.RESET_BUTTON)) {
            return Command.RESET;
        }
        if (is(Signal.START_BUTTON)) {
            Status now = shown;
            return now != null && now.state() == State.HELD ? Command.RESTART : Command.START;
        }
        return Command.NONE;
    }

    /** The choice whose button is down. */
    public Choice choice() {
        if (is(Signal.ACKNOWLEDGE_BUTTON)) {
            return is(Signal.RESET_BUTTON) ? Choice.PROOF_TEST : acknowledged();
        }
        if (is(Signal.SAME_JAR_BUTTON)) {
            return Choice.SAME_JAR_AGAIN;
        }
        return is(Signal.SECOND_WASH_BUTTON) ? Choice.SECOND_WASH : Choice.NONE;
    }

    private Choice acknowledged() {
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

    private boolean is(Signal button) {
        return Boolean.TRUE.equals(pressed.get(button));
    }
}
