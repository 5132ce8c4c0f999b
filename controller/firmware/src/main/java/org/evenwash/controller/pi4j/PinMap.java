package org.evenwash.controller.pi4j;

import static org.evenwash.controller.pi4j.Level.HIGH;
import static org.evenwash.controller.pi4j.Level.LOW;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.evenwash.controller.pi4j.Finding.Trouble;

/**
 * Which wire is on which pin, and which level means what.
 *
 * @param pins in the order of the documents
 */
public record PinMap(List<Pin> pins) {
    /**
     * One wire.
     *
     * @param gpio the GPIO number (0 to 27), not the place on the header
     * @param active the level that means closed, pressed or on
     * @param pull the chip's own resistor; ignored for outputs
     */
    public record Pin(Signal signal, int gpio, Level active, Pull pull) {
        boolean isActive(Level level) {
            return level == active;
        }

        Level level(boolean on) {
            return on ? active : active.inverted();
        }
    }

    // Place on the 40-pin header by GPIO number, 0 to 27.
    private static final int[] HEADER = {
        27, 28, 3, 5, 7, 29, 31, 26, 24, 21, 19, 23, 32, 33, 8, 10, 36, 11, 12, 35, 38, 40, 15, 16,
        18, 22, 37, 13
    };

    private static final Map<Integer, String> BUSES =
            Map.of(2, "I2C data", 3, "I2C clock", 4, "1-wire data");

    /** Without these a bench cannot be watched, driven or stopped. */
    public static final Set<Signal> REQUIRED =
            Set.of(
                    Signal.E_STOP,
                    Signal.LID,
                    Signal.CONTACTOR,
                    Signal.JAR_1,
                    Signal.TACHOMETER,
                    Signal.START_BUTTON,
                    Signal.STOP_BUTTON,
                    Signal.ACKNOWLEDGE_BUTTON,
                    Signal.HEARTBEAT,
                    Signal.SUPPLY_PERMIT,
                    Signal.DRIVE_ENABLE,
                    Signal.MOTOR_PWM);

    /**
     * The map of the wiring notes. Contacts that must be noticed when their wire breaks connect 3.3 V to the pin against a
     * resistor to ground, so that a wire chafed through to the frame reads as unsafe too; the contactor's mirror contact does so while the contactor is open, so a broken wire there looks
     * like a welded contactor. Start-like buttons connect to ground: their broken wire never starts anything. Outputs that
     * could move something are on GPIO9 or above, where a Pi's chip pulls down from power-on until a program drives them.
     * GPIO0 and GPIO1 are free for two lamps because no add-on board with an identity chip is used; the serial console on
     * GPIO14 and GPIO15 must be off.
     */
    public static final PinMap DEFAULT =
            // spotless:off
            new PinMap(List.of(
                //      signal                     GPIO  active  pull
                new Pin(Signal.E_STOP,               5,  HIGH,   Pull.DOWN),
                new Pin(Signal.LID,                  6,  HIGH,   Pull.DOWN),
                new Pin(Signal.GUARD,               13,  HIGH,   Pull.DOWN),
                new Pin(Signal.CONTACTOR,           19,  LOW,    Pull.DOWN),
                new Pin(Signal.DRIVER,              26,  HIGH,   Pull.DOWN),
                new Pin(Signal.JAR_1,                7,  HIGH,   Pull.DOWN),
                new Pin(Signal.TACHOMETER,          12,  LOW,    Pull.UP),
                new Pin(Signal.START_BUTTON,        16,  LOW,    Pull.UP),
                new Pin(Signal.STOP_BUTTON,         20,  LOW,    Pull.DOWN),
                new Pin(Signal.HOLD_BUTTON,         21,  LOW,    Pull.UP),
                new Pin(Signal.ACKNOWLEDGE_BUTTON,   9,  LOW,    Pull.UP),
                new Pin(Signal.SAME_JAR_BUTTON,     10,  LOW,    Pull.UP),
                new Pin(Signal.SECOND_WASH_BUTTON,  14,  LOW,    Pull.UP),
                new Pin(Signal.PROOF_TEST_BUTTON,   15,  LOW,    Pull.UP),
                new Pin(Signal.HEARTBEAT,           17,  HIGH,   Pull.NONE),
                new Pin(Signal.SUPPLY_PERMIT,       27,  HIGH,   Pull.NONE),
                new Pin(Signal.DRIVE_ENABLE,        11,  HIGH,   Pull.NONE),
                new Pin(Signal.DRIVE_REVERSE,       22,  HIGH,   Pull.NONE),
                new Pin(Signal.MOTOR_PWM,           18,  HIGH,   Pull.NONE),
                new Pin(Signal.LAMP_GREEN,          23,  HIGH,   Pull.NONE),
                new Pin(Signal.LAMP_YELLOW,         24,  HIGH,   Pull.NONE),
                new Pin(Signal.LAMP_RED,             8,  HIGH,   Pull.NONE),
                new Pin(Signal.LAMP_BLUE,            1,  HIGH,   Pull.NONE),
                new Pin(Signal.LAMP_WHITE,           0,  HIGH,   Pull.NONE),
                new Pin(Signal.SOUNDER,             25,  HIGH,   Pull.NONE)));
            // spotless:on

    public PinMap {
        pins = List.copyOf(pins);
    }

    /** The pin of a signal; empty when this bench has none. */
    public Optional<Pin> pin(Signal signal) {
        return pins.stream().filter(pin -> pin.signal() == signal).findFirst();
    }

    /** The same map with one pin changed or added; its place in the order stays. */
    public PinMap with(Pin changed) {
        Map<Signal, Pin> by = new EnumMap<>(Signal.class);
        pins.forEach(pin -> by.put(pin.signal(), pin));
        by.put(changed.signal(), changed);
        return new PinMap(List.copyOf(by.values()));
    }

    /** All that is wrong with the map itself, before any board is looked at. */
    public List<Finding> mistakes() {
        List<Finding> found = new ArrayList<>();
        Map<Integer, Pin> taken = new HashMap<>();
        Set<Signal> seen = EnumSet.noneOf(Signal.class);
        for (Pin pin : pins) {
            if (pin.gpio() < 0 || pin.gpio() >= HEADER.length) {
                found.add(BoardCheck.noSuchLine(pin.gpio(), pin.signal().title()));
            }
            Pin other = taken.putIfAbsent(pin.gpio(), pin);
            String holder = other == null ? BUSES.get(pin.gpio()) : other.signal().title();
            if (holder != null) {
                found.add(twice(pin.gpio(), holder, pin.signal().title()));
            }
            if (!seen.add(pin.signal())) {
                found.add(
                        new Finding(
                                Trouble.DUPLICATE_LINE,
                                "'%s' stands in the pin map twice.".formatted(pin.signal().title()),
                                "Keep the one that is wired."));
            }
        }
        REQUIRED.stream()
                .sorted()
                .filter(signal -> !seen.contains(signal))
                .forEach(signal -> found.add(unmapped(signal)));
        return found;
    }

    private static Finding twice(int gpio, String first, String second) {
        return new Finding(
                Trouble.DUPLICATE_LINE,
                "GPIO%d is given to '%s' and to '%s'.".formatted(gpio, first, second),
                "Give one of them another pin in the pin map, and move its wire.");
    }

    private static Finding unmapped(Signal signal) {
        return new Finding(
                Trouble.NO_SUCH_LINE,
                "'%s' has no pin in the pin map.".formatted(signal.title()),
                "Add it: no bench may run without it.");
    }

    /** The table for people, in Markdown: the wiring notes print this, so the two cannot differ. */
    public String markdown() {
        StringBuilder page = new StringBuilder();
        page.append(
                "| Signal | GPIO | Header | Direction | Active means | Active level | Pull |\n");
        page.append("|---|---|---|---|---|---|---|\n");
        for (Pin pin : pins) {
            Signal.Kind kind = pin.signal().kind();
            page.append("| ").append(pin.signal().title());
            page.append(" | ").append(pin.gpio());
            page.append(" | ").append(HEADER[pin.gpio()]);
            page.append(" | ").append(kind.isInput() ? "in" : "out");
            page.append(" | ").append(meaning(kind));
            page.append(" | ").append(pin.active() == HIGH ? "high" : "low");
            page.append(" | ")
                    .append(kind.isInput() ? pull(pin.pull()) : "external, down")
                    .append(" |\n");
        }
        BUSES.keySet().stream()
                .sorted()
                .forEach(
                        gpio ->
                                page.append("| ")
                                        .append(BUSES.get(gpio))
                                        .append(" | ")
                                        .append(gpio)
                                        .append(" | ")
                                        .append(HEADER[gpio])
                                        .append(" | bus | | | external, up |\n"));
        return page.toString();
    }

    private static String meaning(Signal.Kind kind) {
        return switch (kind) {
            case CONTACT -> "closed";
            case BUTTON -> "pressed";
            case PULSES -> "pulse";
            case OUTPUT -> "on";
            case PWM -> "driving";
        };
    }

    private static String pull(Pull pull) {
        return switch (pull) {
            case UP -> "up";
            case DOWN -> "down";
            case NONE -> "none";
        };
    }
}
