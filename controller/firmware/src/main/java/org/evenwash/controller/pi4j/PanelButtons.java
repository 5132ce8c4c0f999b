package org.evenwash.controller.pi4j;

import java.util.EnumMap;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.function.LongSupplier;
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
    /**
     * A button counts as released when it has been quiet for so long. Contacts bounce for some 10 ms (common practice, no
     * source), which is a scan: without this one press could be seen as two, and the second be a START.
     */
    private static final long RELEASED_AFTER_ns = TimeUnit.MILLISECONDS.toNanos(50);

    private static final class Button {
        private final Pin pin;
        private final InputLine line;
        private boolean down;
        private boolean wasDown;
        private long lastMoved_ns;
        private long up_ns;

        Button(Pin pin, InputLine line, long now_ns) {
            this.pin = pin;
            this.line = line;
            drain(); // taking a line with its pull may itself look like a press
            up_ns = now_ns;
        }

        /** Down now, or pressed and released since the last look: the kernel keeps the edges. */
        void look(long now_ns) {
            wasDown = down;
            long edge_ns = drain();
            boolean active = pin.isActive(line.level());
            if (active || edge_ns != InputLine.NO_EDGE) {
                lastMoved_ns = now_ns;
            }
            if (!down) {
                // An edge from before the button was seen up is the release, handed over late.
                boolean tapped = edge_ns != InputLine.NO_EDGE && edge_ns > up_ns;
                down = active || tapped;
            } else if (!active && now_ns - lastMoved_ns >= RELEASED_AFTER_ns) {
                down = false;
                up_ns = now_ns;
            }
        }

        /** The kernel's time of the newest edge. */
        private long drain() {
            long newest_ns = InputLine.NO_EDGE;
            long edge_ns = line.awaitEdge(0);
            while (edge_ns != InputLine.NO_EDGE) {
                newest_ns = edge_ns;
                edge_ns = line.awaitEdge(0);
            }
            return newest_ns;
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
    private final LongSupplier clock_ns;
    private final Button[] all;
    private Command start = Command.NONE;
    private Choice acknowledge = Choice.NONE;
    private volatile Status shown;

    PanelButtons(Lines lines, PinMap map) {
        this(lines, map, System::nanoTime);
    }

    /**
     * @param clock_ns the clock of the lines' edges
     */
    PanelButtons(Lines lines, PinMap map, LongSupplier clock_ns) {
        this.clock_ns = clock_ns;
        for (Pin pin : map.pins()) {
            if (pin.signal().kind() == Signal.Kind.BUTTON) {
                InputLine line =
                        lines.input(pin.gpio(), pin.pull(), "evenwash " + pin.signal().title());
                buttons.put(pin.signal(), new Button(pin, line, clock_ns.getAsLong()));
            }
        }
        all = buttons.values().toArray(Button[]::new);
    }

    /** Looks at all buttons once. */
    @Override
    public Pressed pressed() {
        long now_ns = clock_ns.getAsLong();
        for (Button each : all) {
            each.look(now_ns);
        }
        Command command = command();
        Choice choice = choice();
        return command == Command.NONE && choice == Choice.NONE
                ? Pressed.NOTHING
                : new Pressed(command, choice);
    }

    /** STOP goes before HOLD before START. */
    private Command command() {
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

    private Choice choice() {
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
