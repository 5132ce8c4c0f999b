package org.evenwash.controller;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.config.Pins;
import org.evenwash.controller.pi4j.Level;
import org.evenwash.controller.pi4j.PinMap;
import org.evenwash.controller.pi4j.Pull;
import org.evenwash.controller.pi4j.Signal;
import org.evenwash.controller.pi4j.Wiring;

/** From the settings' words to the board's: the pins of a person's file as the adapters take them. */
final class BoardWiring {
    private static final int NOT_FITTED = -1;

    /** No shaft turns this much faster than its motor at full drive; sooner pulses are noise. */
    private static final double FASTEST = 1.5;

    private BoardWiring() {}

    static Wiring of(Configuration config) {
        Pins pins = config.pins();
        Pins.MotorPwm pwm = pins.motorPwm();
        Pins.Temperatures temperatures = pins.temperatures();
        return new Wiring(
                pinMap(pins),
                new Wiring.Pwm(
                        Path.of("/sys/class/pwm"), pwm.chip(), pwm.channel(), pwm.frequency_Hz()),
                new Wiring.Tachometer(
                        config.pulsesPerRevolution(), FASTEST * config.settings().fullDrive_rpm()),
                pins.monitor()
                        .map(m -> new Wiring.Monitor(m.bus(), m.address(), m.shunt_mOhm()))
                        .orElse(new Wiring.Monitor(NOT_FITTED, 0, 1)),
                new Wiring.Thermometers(
                        Path.of("/sys/bus/w1/devices"),
                        temperatures.motor().orElse(""),
                        temperatures.spirit().orElse(""),
                        temperatures.ambient().orElse("")));
    }

    private static PinMap pinMap(Pins pins) {
        List<PinMap.Pin> map = new ArrayList<>();
        for (Pins.InputName name : Pins.InputName.values()) {
            Pins.InputLine line = pins.inputs().get(name);
            if (line != null) {
                map.add(
                        new PinMap.Pin(
                                Signal.valueOf(name.name()),
                                line.pin(),
                                Level.valueOf(line.active().name()),
                                Pull.valueOf(line.pull().name())));
            }
        }
        for (Pins.OutputName name : Pins.OutputName.values()) {
            Pins.OutputLine line = pins.outputs().get(name);
            map.add(
                    new PinMap.Pin(
                            Signal.valueOf(name.name()),
                            line.pin(),
                            Level.valueOf(line.active().name()),
                            Pull.NONE));
        }
        map.add(new PinMap.Pin(Signal.MOTOR_PWM, pins.motorPwm().pin(), Level.HIGH, Pull.NONE));
        return new PinMap(map);
    }
}
