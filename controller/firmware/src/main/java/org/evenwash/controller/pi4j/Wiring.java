package org.evenwash.controller.pi4j;

import java.nio.file.Path;
import java.util.EnumSet;
import java.util.Set;
import org.evenwash.controller.process.Sensor;

/**
 * All that is true of one bench's wires: the pin map and what hangs on the buses. Plain values, read from the configuration.
 */
public record Wiring(
        PinMap pins, Pwm pwm, Tachometer tachometer, Monitor monitor, Thermometers thermometers) {
    /**
     * The motor's PWM channel.
     *
     * @param tree the kernel's folder
     * @param chip N of {@code pwmchipN}
     * @param frequency_Hz above hearing, below the driver's limit
     */
    public record Pwm(Path tree, int chip, int channel, int frequency_Hz) {}

    /**
     * The pulse giver on the shaft.
     *
     * @param pulsesPerRevolution magnets or slots in one turn of the jar's shaft
     * @param fastest_rpm the shaft cannot turn faster; sooner pulses are noise
     */
    public record Tachometer(int pulsesPerRevolution, double fastest_rpm) {}

    /**
     * The monitor of motor supply and current.
     *
     * @param bus N of {@code /dev/i2c-N}; negative when there is no monitor
     * @param shunt_mOhm in the motor's positive wire, between contactor and driver
     */
    public record Monitor(int bus, int address, double shunt_mOhm) {
        boolean fitted() {
            return bus >= 0;
        }
    }

    /**
     * The 1-wire thermometers by their numbers ({@code 28-...}); an empty number is one that is not fitted.
     *
     * @param devices the kernel's folder
     */
    public record Thermometers(Path devices, String motor, String spirit, String ambient) {}

    /** As in the wiring notes; the thermometers' numbers are each part's own and must be written in. */
    public static final Wiring DEFAULT =
            new Wiring(
                    PinMap.DEFAULT,
                    new Pwm(Path.of("/sys/class/pwm"), 0, 0, 20_000),
                    new Tachometer(12, 600),
                    new Monitor(1, 0x40, 10),
                    new Thermometers(Path.of("/sys/bus/w1/devices"), "", "", ""));

    /** The sensors that these wires give the process; it must not count on others. */
    public Set<Sensor> fitted() {
        Set<Sensor> fitted =
                EnumSet.of(
                        Sensor.E_STOP,
                        Sensor.LID,
                        Sensor.JARS,
                        Sensor.CONTACTOR,
                        Sensor.TACHOMETER);
        add(fitted, Sensor.GUARD, pins.pin(Signal.GUARD).isPresent());
        add(fitted, Sensor.DRIVER, pins.pin(Signal.DRIVER).isPresent());
        add(fitted, Sensor.SUPPLY_VOLTAGE, monitor.fitted());
        add(fitted, Sensor.MOTOR_CURRENT, monitor.fitted());
        add(fitted, Sensor.MOTOR_TEMPERATURE, !thermometers.motor().isEmpty());
        add(fitted, Sensor.SPIRIT_TEMPERATURE, !thermometers.spirit().isEmpty());
        add(fitted, Sensor.AMBIENT_TEMPERATURE, !thermometers.ambient().isEmpty());
        return fitted;
    }

    private static void add(Set<Sensor> fitted, Sensor sensor, boolean there) {
        if (there) {
            fitted.add(sensor);
        }
    }
}
