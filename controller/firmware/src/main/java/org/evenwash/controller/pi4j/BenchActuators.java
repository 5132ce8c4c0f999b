package org.evenwash.controller.pi4j;

import java.util.EnumMap;
import java.util.Map;
import java.util.function.DoubleConsumer;
import org.evenwash.controller.pi4j.Lines.OutputLine;
import org.evenwash.controller.pi4j.PinMap.Pin;
import org.evenwash.controller.port.Actuators;
import org.evenwash.controller.process.Outputs;

/** All outputs, written whole at every scan. What is to be off goes off first, what is to be on comes on last. */
final class BenchActuators implements Actuators {
    private record OutputPin(Pin pin, OutputLine line) {}

    private final Map<Signal, OutputPin> outputs = new EnumMap<>(Signal.class);
    private final DoubleConsumer duty;

    /**
     * @param duty sets the motor's duty, 0 to 1
     */
    BenchActuators(Lines lines, PinMap map, DoubleConsumer duty) {
        this.duty = duty;
        for (Pin pin : map.pins()) {
            if (pin.signal().kind() == Signal.Kind.OUTPUT) {
                OutputLine line =
                        lines.output(
                                pin.gpio(), pin.level(false), "evenwash " + pin.signal().title());
                outputs.put(pin.signal(), new OutputPin(pin, line));
            }
        }
    }

    @Override
    public void write(Outputs now) {
        if (!now.driveOn()) {
            drive(Signal.DRIVE_ENABLE, false);
            duty(0);
            drive(Signal.SUPPLY_PERMIT, now.supplyPermitted());
        }
        drive(Signal.HEARTBEAT, now.heartbeat());
        drive(Signal.LAMP_RED, now.red());
        drive(Signal.LAMP_YELLOW, now.yellow());
        drive(Signal.LAMP_GREEN, now.green());
        drive(Signal.LAMP_BLUE, now.blue());
        drive(Signal.LAMP_WHITE, now.white());
        drive(Signal.SOUNDER, now.sounder());
        if (now.driveOn()) {
            drive(Signal.SUPPLY_PERMIT, now.supplyPermitted());
            drive(Signal.DRIVE_REVERSE, now.reverse());
            duty(now.duty());
            drive(Signal.DRIVE_ENABLE, true);
        }
    }

    private void drive(Signal signal, boolean on) {
        OutputPin output = outputs.get(signal);
        if (output == null) {
            return; // not every bench has every lamp
        }
        try {
            output.line.drive(output.pin.level(on));
        } catch (RuntimeException e) {
            throw new IllegalStateException("cannot write output '" + signal.title() + "'", e);
        }
    }

    private void duty(double share) {
        try {
            duty.accept(share);
        } catch (RuntimeException e) {
            throw new IllegalStateException(
                    "cannot write output '" + Signal.MOTOR_PWM.title() + "'", e);
        }
    }
}
