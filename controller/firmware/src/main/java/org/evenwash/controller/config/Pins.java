package org.evenwash.controller.config;

import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * Where everything is wired. Line numbers are the Raspberry Pi's GPIO numbers.
 *
 * @param inputs those that are fitted
 * @param monitor empty when supply and current are not measured
 */
public record Pins(
        Map<InputName, InputLine> inputs,
        Map<OutputName, OutputLine> outputs,
        MotorPwm motorPwm,
        Temperatures temperatures,
        Optional<Monitor> monitor) {

    /** Highest GPIO number on the header. */
    public static final int LAST_PIN = 27;

    /** The level that means closed, pressed or on. */
    public enum Active {
        LOW,
        HIGH
    }

    public enum Pull {
        UP,
        DOWN,
        NONE
    }

    /** Inputs; the key in the file is the same in camel case. */
    public enum InputName {
        E_STOP,
        LID,
        GUARD,
        CONTACTOR,
        DRIVER,
        JAR_1(1),
        JAR_2(2),
        JAR_3(3),
        JAR_4(4),
        JAR_5(5),
        JAR_6(6),
        JAR_7(7),
        JAR_8(8),
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
        SUPPLY_PERMIT,
        DRIVE_ENABLE,
        DRIVE_REVERSE,
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
    public record MotorPwm(int chip, int channel, int pin, int frequency_Hz) {}

    /** 1-wire ids; empty where no sensor is fitted. */
    public record Temperatures(
            Optional<String> motor, Optional<String> spirit, Optional<String> ambient) {}

    /** I2C monitor of motor supply and current. */
    public record Monitor(int bus, int address, double shunt_mOhm) {}

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
