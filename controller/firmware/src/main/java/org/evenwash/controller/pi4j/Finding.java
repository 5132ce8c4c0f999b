package org.evenwash.controller.pi4j;

/**
 * One thing that is wrong with the wiring, the board or the pin map.
 *
 * @param trouble the kind, for tests and exit codes
 * @param what one sentence: what is wrong and where
 * @param remedy one sentence: what to do about it
 */
public record Finding(Trouble trouble, String what, String remedy) {
    /** The kinds of trouble, each with a sentence of its own. */
    public enum Trouble {
        NO_GPIO_DEVICE,
        OLD_INTERFACE_MISSING,
        NOT_A_PI,
        WRONG_CHIP,
        NATIVE_LIBRARY,
        NO_SUCH_LINE,
        BUSY_LINE,
        DUPLICATE_LINE,
        DUPLICATE_DEVICE,
        FLOATING_LINE,
        INVERTED_POLARITY,
        SWAPPED_LINES,
        DEAD_LINE,
        NOT_AT_REST,
        MOTOR_SUPPLY_ON,
        OUTPUT_NOT_SEEN,
        PWM_MISSING,
        BUS_MISSING,
        DEVICE_SILENT,
        WRONG_DEVICE,
        TEMPERATURE_MISSING,
        TEMPERATURE_IMPLAUSIBLE
    }

    @Override
    public String toString() {
        return what + " " + remedy;
    }
}
