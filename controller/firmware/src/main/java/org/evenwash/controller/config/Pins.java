package org.evenwash.controller.config;

import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * Where everything is wired. Line numbers are the Raspberry Pi's GPIO numbers.
 *
 * @param chip label of the GPIO chip, or a part of it
 * @param inputs those that are fitted
 * @param converter empty when supply and current are not measured
 */
public record Pins(
        String chip,
        Map<InputName, InputLine> inputs,
        Map<OutputName, OutputLine> outputs,
        DriveLine drive,
        Temperatures temperatures,
        Optional<Converter> converter) {

    /** Highest GPIO number on the header. */
    public static final int LAST_PIN = 27;

    /** The level at which the thing that the name says is true. */
    public enum Active {
        LOW,
        HIGH
    }

    public enum Pull {
        UP,
        DOWN,
        NONE
    }

    /** Inputs by what is true of them while active; the YAML key is the same in camel case. */
    public enum InputName {
        E_STOP_RELEASED,
        LID_CLOSED,
        GUARD_CLOSED,
        CONTACTOR_CLOSED,
        DRIVER_HEALTHY,
        JAR1_LOCKED(1),
        JAR2_LOCKED(2),
        JAR3_LOCKED(3),
        JAR4_LOCKED(4),
        JAR5_LOCKED(5),
        JAR6_LOCKED(6),
        JAR7_LOCKED(7),
        JAR8_LOCKED(8),
        TACHOMETER,
        START_BUTTON,
        STOP_BUTTON,
        HOLD_BUTTON,
        ACKNOWLEDGE_BUTTON,
        SAME_JAR_BUTTON,
        SECOND_WASH_BUTTON,
        PROOF_TEST_BUTTON;

        private final int jarPosition;

        InputName() {
            this(0);
        }

        InputName(int jarPosition) {
            this.jarPosition = jarPosition;
        }

        /** The jar position, counted from 1, whose contact this is; 0 for all others. */
        public int jarPosition() {
            return jarPosition;
        }

        public String key() {
            return camelCase(name());
        }
    }

    public enum OutputName {
        HEARTBEAT,
        CONTACTOR,
        REVERSE,
        LAMP_GREEN,
        LAMP_YELLOW,
        LAMP_RED,
        LAMP_BLUE,
        LAMP_WHITE,
        SOUNDER;

        public String key() {
            return camelCase(name());
        }
    }

    public record InputLine(int pin, Active active, Pull pull) {}

    public record OutputLine(int pin, Active active) {}

    /**
     * The motor's speed signal.
     *
     * @param pin where the channel comes out; not driven as a GPIO line
     */
    public record DriveLine(int pwmChip, int pwmChannel, int pin, int frequency_Hz) {}

    /** 1-wire ids; empty where no sensor is fitted. */
    public record Temperatures(
            Optional<String> motor, Optional<String> spirit, Optional<String> ambient) {}

    /** I2C converter for motor supply and current. */
    public record Converter(int bus, int address, double shunt_mOhm) {}

    public Pins {
        inputs = Map.copyOf(inputs);
        outputs = Map.copyOf(outputs);
    }

    private static String camelCase(String name) {
        StringBuilder key = new StringBuilder();
        for (String word : name.toLowerCase(Locale.ROOT).split("_")) {
            key.append(
                    key.isEmpty()
                            ? word
                            : Character.toUpperCase(word.charAt(0)) + word.substring(1));
        }
        return key.toString();
    }
}
