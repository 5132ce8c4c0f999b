package org.evenwash.controller.pi4j;

import java.time.Duration;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.locks.LockSupport;
import java.util.function.LongConsumer;
import java.util.function.LongSupplier;
import org.evenwash.controller.pi4j.Finding.Trouble;
import org.evenwash.controller.pi4j.Lines.InputLine;
import org.evenwash.controller.pi4j.Lines.OutputLine;
import org.evenwash.controller.pi4j.PinMap.Pin;
import org.evenwash.controller.pi4j.WiringCheck.Snapshot;

/**
 * The guided check of the wiring: first by itself, then every input moved by the builder, then every output tried while the
 * contactor's read-back proves that the motor supply is off. It never starts a cycle.
 */
public final class CheckProcedure {
    /** The builder, at a terminal. */
    public interface Builder {
        /** Shows a line. */
        void show(String line);

        /** Asks for something to be done; returns at once, the procedure watches the lines itself. */
        void instruct(String what);

        /** Asks and waits for yes or no. */
        boolean confirms(String question);
    }

    private static final Duration PATIENCE = Duration.ofSeconds(30);
    private static final Duration LOOK_EVERY = Duration.ofMillis(20);
    private static final Duration HEARTBEAT_HALF_PERIOD = Duration.ofMillis(10);
    private static final int HEARTBEAT_BEATS = 200;

    private final Lines lines;
    private final PinMap map;
    private final Builder builder;
    private final LongSupplier clock_ns;
    private final LongConsumer pause_ns;
    private final Map<Signal, InputLine> inputs = new EnumMap<>(Signal.class);
    private final Map<Signal, OutputLine> outputs = new EnumMap<>(Signal.class);

    public CheckProcedure(Lines lines, PinMap map, Builder builder) {
        this(lines, map, builder, System::nanoTime, LockSupport::parkNanos);
    }

    CheckProcedure(
            Lines lines,
            PinMap map,
            Builder builder,
            LongSupplier clock_ns,
            LongConsumer pause_ns) {
        this.lines = lines;
        this.map = map;
        this.builder = builder;
        this.clock_ns = clock_ns;
        this.pause_ns = pause_ns;
    }

    /**
     * The part that needs nobody: pin map, free lines, floating lines. Afterwards all lines are held.
     *
     * @return all that is wrong; a line that floats or is busy leaves the others to be tried, see {@link #ready}
     */
    public List<Finding> alone() {
        List<Finding> found = new ArrayList<>(map.mistakes());
        if (!found.isEmpty()) {
            return found;
        }
        for (Pin pin : map.pins()) {
            try {
                take(pin, found);
            } catch (WiringException e) {
                found.add(e.finding());
            }
        }
        return found;
    }

    private void take(Pin pin, List<Finding> found) {
        Signal signal = pin.signal();
        switch (signal.kind()) {
            case CONTACT, BUTTON, PULSES -> {
                Level up = lines.glance(pin.gpio(), Pull.UP);
                Level down = lines.glance(pin.gpio(), Pull.DOWN);
                WiringCheck.floating(pin, up, down).ifPresent(found::add);
                inputs.put(signal, lines.input(pin.gpio(), pin.pull(), "check " + signal.title()));
            }
            case OUTPUT ->
                    outputs.put(
                            signal,
                            lines.output(pin.gpio(), pin.level(false), "check " + signal.title()));
            case PWM -> {
                // The PWM driver owns the pin; SysfsPwm checks that part.
            }
        }
    }

    /** Whether any line is held, so that the parts with the builder make sense; not with a mistaken pin map. */
    public boolean ready() {
        return !inputs.isEmpty();
    }

    /** One line of text with the state of every input, for the live view. */
    public String live() {
        StringBuilder text = new StringBuilder();
        for (Pin pin : map.pins()) {
            InputLine line = inputs.get(pin.signal());
            if (line != null) {
                text.append(text.length() == 0 ? "" : "  ").append(pin.signal().name()).append('=');
                text.append(word(pin, line.level()));
            }
        }
        return text.toString();
    }

    private static String word(Pin pin, Level level) {
        boolean active = pin.isActive(level);
        return switch (pin.signal().kind()) {
            case CONTACT -> active ? "closed" : "open";
            case BUTTON -> active ? "pressed" : "released";
            case PULSES, OUTPUT, PWM -> level.name().toLowerCase(Locale.ROOT);
        };
    }

    /** Every input moved once by the builder; each must be the one that changes. */
    public List<Finding> inputs() {
        List<Finding> found = new ArrayList<>();
        builder.show(
                "Bring the bench to rest: lid and guard closed, jars locked, emergency stop released, motor supply off.");
        if (!builder.confirms("Is it at rest?")) {
            return found;
        }
        found.addAll(WiringCheck.atRest(map, snapshot()));
        for (Pin pin : map.pins()) {
            if (inputs.containsKey(pin.signal())) {
                Snapshot before = snapshot();
                builder.instruct("Now " + pin.signal().trial() + ".");
                WiringCheck.moved(map, pin.signal(), before, awaitChange(before))
                        .ifPresent(found::add);
                builder.instruct("Put it back.");
                awaitSame(before);
            }
        }
        return found;
    }

    /** Every output tried once, each only while the motor supply is proven off. */
    public List<Finding> outputs() {
        List<Finding> found = new ArrayList<>();
        for (Map.Entry<Signal, OutputLine> output : outputs.entrySet()) {
            Signal signal = output.getKey();
            boolean wanted =
                    !supplyOn() && builder.confirms("Try the %s?".formatted(signal.title()));
            if (wanted) {
                tryOutput(signal, output.getValue()).ifPresent(found::add);
            }
            if (supplyOn()) {
                found.add(supplyOn(signal));
                return found;
            }
        }
        return found;
    }

    private Optional<Finding> tryOutput(Signal signal, OutputLine line) {
        Pin pin = map.pin(signal).orElseThrow();
        try {
            if (signal == Signal.HEARTBEAT) {
                beat(pin, line);
            } else {
                line.drive(pin.level(true));
            }
            if (supplyOn() || builder.confirms(question(signal))) {
                return Optional.empty();
            }
            return Optional.of(
                    new Finding(
                            Trouble.OUTPUT_NOT_SEEN,
                            "'%s' (GPIO%d) was switched on, read back %s, and nobody saw it."
                                    .formatted(signal.title(), pin.gpio(), line.level()),
                            "Check its wire, its transistor and its supply."));
        } finally {
            line.drive(pin.level(false));
        }
    }

    private static String question(Signal signal) {
        String asked = signal.trial();
        return Character.toUpperCase(asked.charAt(0)) + asked.substring(1) + "?";
    }

    private void beat(Pin pin, OutputLine line) {
        for (int i = 0; i < HEARTBEAT_BEATS && !supplyOn(); i++) {
            line.drive(pin.level(i % 2 == 0));
            pause_ns.accept(HEARTBEAT_HALF_PERIOD.toNanos());
        }
    }

    /** Unread counts as on. */
    private boolean supplyOn() {
        InputLine readBack = inputs.get(Signal.CONTACTOR);
        return readBack == null
                || map.pin(Signal.CONTACTOR).orElseThrow().isActive(readBack.level());
    }

    private static Finding supplyOn(Signal wanted) {
        return new Finding(
                Trouble.MOTOR_SUPPLY_ON,
                "'%s' is not tried: the contactor's read-back does not prove that the motor supply is off."
                        .formatted(wanted.title()),
                "Press the emergency stop, unplug the motor supply, check the read-back contact, and begin again.");
    }

    private Snapshot snapshot() {
        Map<Signal, Level> levels = new EnumMap<>(Signal.class);
        inputs.forEach((signal, line) -> levels.put(signal, line.level()));
        return new Snapshot(levels);
    }

    private Snapshot awaitChange(Snapshot before) {
        long begun_ns = clock_ns.getAsLong();
        Snapshot now = snapshot();
        while (before.changed(now).isEmpty()
                && clock_ns.getAsLong() - begun_ns < PATIENCE.toNanos()) {
            pause_ns.accept(LOOK_EVERY.toNanos());
            now = snapshot();
        }
        return now;
    }

    private void awaitSame(Snapshot before) {
        long begun_ns = clock_ns.getAsLong();
        while (!before.changed(snapshot()).isEmpty()
                && clock_ns.getAsLong() - begun_ns < PATIENCE.toNanos()) {
            pause_ns.accept(LOOK_EVERY.toNanos());
        }
    }
}
