package org.evenwash.controller.pi4j;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.evenwash.controller.pi4j.Finding.Trouble;
import org.evenwash.controller.pi4j.PinMap.Pin;

/**
 * Finds wrong wiring from what the lines show. It decides only; {@link CheckProcedure} does the looking.
 *
 * <p>Three views catch different faults: a free line that follows every pull floats; a bench at rest must read as at rest;
 * and when one thing is moved, exactly that signal must change.
 */
final class WiringCheck {
    private WiringCheck() {}

    /** What all inputs showed at one moment. */
    record Snapshot(Map<Signal, Level> levels) {
        Snapshot {
            levels = new EnumMap<>(levels);
        }

        boolean active(Pin pin) {
            return pin.isActive(levels.get(pin.signal()));
        }

        List<Signal> changed(Snapshot later) {
            return levels.keySet().stream()
                    .filter(signal -> levels.get(signal) != later.levels.get(signal))
                    .toList();
        }
    }

    /**
     * Whether a line hangs in the air.
     *
     * @param pulledUp its level with the chip's pull-up
     * @param pulledDown its level with the chip's pull-down
     */
    static Optional<Finding> floating(Pin pin, Level pulledUp, Level pulledDown) {
        boolean follows = pulledUp == Level.HIGH && pulledDown == Level.LOW;
        if (!follows) {
            return Optional.empty();
        }
        return Optional.of(
                new Finding(
                        Trouble.FLOATING_LINE,
                        "GPIO%d ('%s') follows any pull: nothing else holds its level."
                                .formatted(pin.gpio(), pin.signal().title()),
                        "Fit the external %s, and check the wire to the contact."
                                .formatted(
                                        pin.pull() == Pull.UP
                                                ? "10 kΩ resistor to 3.3 V"
                                                : "10 kΩ resistor to ground")));
    }

    /** What does not read as at rest although the builder says that all is at rest. */
    static List<Finding> atRest(PinMap map, Snapshot now) {
        List<Finding> found = new ArrayList<>();
        for (Pin pin : map.pins()) {
            Signal.Kind kind = pin.signal().kind();
            boolean judged = kind == Signal.Kind.CONTACT || kind == Signal.Kind.BUTTON;
            if (judged && now.active(pin) != pin.signal().activeAtRest()) {
                found.add(notAtRest(pin));
            }
        }
        return found;
    }

    /**
     * What is wrong when the builder moved one thing.
     *
     * @param moved the signal that should have changed
     */
    static Optional<Finding> moved(PinMap map, Signal moved, Snapshot before, Snapshot after) {
        Pin pin = map.pin(moved).orElseThrow();
        List<Signal> changed = before.changed(after);
        if (changed.contains(moved)) {
            // A pulse line has no resting level: that it moves is all there is to see.
            boolean inverted =
                    moved.kind() != Signal.Kind.PULSES
                            && before.active(pin) != moved.activeAtRest();
            return inverted ? Optional.of(inverted(pin)) : Optional.empty();
        }
        if (changed.isEmpty()) {
            return Optional.of(dead(pin));
        }
        return Optional.of(swapped(pin, map.pin(changed.get(0)).orElseThrow()));
    }

    private static Finding notAtRest(Pin pin) {
        Signal signal = pin.signal();
        boolean button = signal.kind() == Signal.Kind.BUTTON;
        String reads = signal.activeAtRest() ? "open" : button ? "pressed" : "closed";
        return new Finding(
                Trouble.NOT_AT_REST,
                "'%s' (GPIO%d) reads %s with the bench at rest."
                        .formatted(signal.title(), pin.gpio(), reads),
                button
                        ? "Release it; if it stays, look for a broken or shorted wire, or turn its active level round in the pin map."
                        : "Bring it to rest; if it stays, look for a broken wire or a contact of the wrong kind, or turn its active level round in the pin map.");
    }

    private static Finding inverted(Pin pin) {
        return new Finding(
                Trouble.INVERTED_POLARITY,
                "'%s' (GPIO%d) reads the wrong way round: it changed, but from active to inactive exchanged."
                        .formatted(pin.signal().title(), pin.gpio()),
                "Use the other kind of contact as the wiring notes show; turn the active level round only for an output stage that inverts.");
    }

    private static Finding dead(Pin pin) {
        return new Finding(
                Trouble.DEAD_LINE,
                "'%s' (GPIO%d) did not change, and nothing else did."
                        .formatted(pin.signal().title(), pin.gpio()),
                "Check its wire at both ends, the contact with a meter, and the pin's number.");
    }

    private static Finding swapped(Pin meant, Pin changed) {
        return new Finding(
                Trouble.SWAPPED_LINES,
                "'%s' was moved, but '%s' changed: their wires are exchanged."
                        .formatted(meant.signal().title(), changed.signal().title()),
                "Exchange the wires at GPIO%d and GPIO%d, or the two numbers in the pin map."
                        .formatted(meant.gpio(), changed.gpio()));
    }
}
