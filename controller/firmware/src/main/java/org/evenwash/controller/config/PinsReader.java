package org.evenwash.controller.config;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.evenwash.controller.config.Pins.Active;
import org.evenwash.controller.config.Pins.InputLine;
import org.evenwash.controller.config.Pins.InputName;
import org.evenwash.controller.config.Pins.Monitor;
import org.evenwash.controller.config.Pins.MotorPwm;
import org.evenwash.controller.config.Pins.OutputLine;
import org.evenwash.controller.config.Pins.OutputName;
import org.evenwash.controller.config.Pins.Pull;
import org.evenwash.controller.config.Pins.Temperatures;

/** Reads the pins section and finds lines that are given away twice. */
final class PinsReader {
    /** The header's own use of these lines: I2C bus 1 on 2 and 3, 1-wire on 4. */
    private static final int I2C_DATA = 2;

    private static final int I2C_CLOCK = 3;
    private static final int ONE_WIRE = 4;

    private static final String NOT_FITTED = "none";

    private final Map<Integer, String> takenBy = new HashMap<>();

    Pins read(Section section, int jarPositions) {
        section.allowOnlyShipped();
        Section drive = section.section("motorPwm");
        drive.allowOnlyShipped();
        Temperatures temperatures = temperatures(section.section("temperatures"));
        Optional<Monitor> monitor = monitor(section.section("monitor"));
        if (monitor.isPresent()) {
            takenBy.put(I2C_DATA, "the I2C bus");
            takenBy.put(I2C_CLOCK, "the I2C bus");
        }
        if (temperatures.motor().or(temperatures::spirit).or(temperatures::ambient).isPresent()) {
            takenBy.put(ONE_WIRE, "the 1-wire bus");
        }
        MotorPwm driveLine =
                new MotorPwm(
                        drive.whole("chip", 0, 9),
                        drive.whole("channel", 0, 3),
                        pin(drive, "pwm"),
                        drive.whole("frequency_Hz", 100, 100_000));
        return new Pins(
                inputs(section.section("inputs"), jarPositions),
                outputs(section.section("outputs")),
                driveLine,
                temperatures,
                monitor);
    }

    private Map<InputName, InputLine> inputs(Section section, int jarPositions) {
        List<String> known = new ArrayList<>();
        for (InputName name : InputName.values()) {
            known.add(name.key());
        }
        section.allowOnly(known);
        Map<InputName, InputLine> lines = new EnumMap<>(InputName.class);
        for (InputName name : InputName.values()) {
            boolean isJar = name.jarPosition() > 0;
            if (name.jarPosition() > jarPositions) {
                if (section.has(name.key())) {
                    section.mistake(
                            name.key(),
                            "belongs to a jar position that this bench does not have",
                            "Raise bench.jarPositions or take the line out");
                }
            } else if (!section.isWord(name.key(), NOT_FITTED)) {
                lines.put(name, input(section.section(name.key())));
            } else if (isJar || isRequired(name)) {
                section.mistake(
                        name.key(),
                        "is none, and no bench is safe without it",
                        "Wire it and give its pin");
            }
        }
        return lines;
    }

    private static boolean isRequired(InputName name) {
        return switch (name) {
            case E_STOP,
                    LID,
                    CONTACTOR,
                    TACHOMETER,
                    START_BUTTON,
                    STOP_BUTTON,
                    ACKNOWLEDGE_BUTTON ->
                    true;
            default -> false;
        };
    }

    private InputLine input(Section line) {
        line.allowOnly(List.of("pin", "active", "pull"));
        return new InputLine(
                pin(line, "an input"),
                line.choice("active", Active.class),
                line.choice("pull", Pull.class));
    }

    private Map<OutputName, OutputLine> outputs(Section section) {
        section.allowOnly(Arrays.stream(OutputName.values()).map(OutputName::key).toList());
        Map<OutputName, OutputLine> lines = new EnumMap<>(OutputName.class);
        for (OutputName name : OutputName.values()) {
            Section line = section.section(name.key());
            line.allowOnly(List.of("pin", "active"));
            lines.put(
                    name,
                    new OutputLine(pin(line, "an output"), line.choice("active", Active.class)));
        }
        return lines;
    }

    /** A line's number, which nothing before it may have. */
    private int pin(Section line, String use) {
        int pin = line.whole("pin", 0, Pins.LAST_PIN);
        String mine = line.path() + " in line " + line.lineOf("pin");
        String before = takenBy.putIfAbsent(pin, line.lineOf("pin") == 0 ? line.path() : mine);
        if (before != null) {
            line.mistake(
                    "pin",
                    "is " + pin + ", which " + before + " has already",
                    "Give " + use + " a line of its own");
        }
        return pin;
    }

    private static Temperatures temperatures(Section section) {
        section.allowOnlyShipped();
        return new Temperatures(
                sensor(section, "motor"), sensor(section, "spirit"), sensor(section, "ambient"));
    }

    private static Optional<String> sensor(Section section, String key) {
        String id =
                section.text(
                        key,
                        "([0-9a-f]{2}-[0-9a-f]{12})?",
                        "an id such as 28-0123456789ab, or \"\" for none");
        return id.isEmpty() ? Optional.empty() : Optional.of(id);
    }

    private static Optional<Monitor> monitor(Section section) {
        section.allowOnlyShipped();
        Monitor monitor =
                new Monitor(
                        section.whole("bus", 0, 20),
                        section.whole("address", 0x08, 0x77),
                        section.number("shunt_mOhm", 0.1, 10_000));
        return section.yesNo("fitted") ? Optional.of(monitor) : Optional.empty();
    }
}
