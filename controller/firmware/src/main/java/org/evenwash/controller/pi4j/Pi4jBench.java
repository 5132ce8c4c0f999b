package org.evenwash.controller.pi4j;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.function.DoubleSupplier;
import org.evenwash.controller.port.Actuators;
import org.evenwash.controller.port.Panel;
import org.evenwash.controller.port.Sensors;
import org.evenwash.controller.process.Outputs;
import org.evenwash.controller.process.Sensor;

/**
 * A real bench: everything opened in one place, outputs off before anything else, and given back in the reverse order.
 */
public final class Pi4jBench implements AutoCloseable {
    /** Edges of these wake the scan before its time. */
    private static final List<Signal> WAKES =
            List.of(Signal.E_STOP, Signal.LID, Signal.GUARD, Signal.CONTACTOR, Signal.DRIVER);

    private static final long WAKE_PATIENCE_ns = TimeUnit.MILLISECONDS.toNanos(500);
    private static final long MONITOR_PAUSE_ms = 50;
    private static final long THERMOMETER_PAUSE_ms = 100;

    private final List<AutoCloseable> opened = new ArrayList<>();
    private final List<LineThread> wakers = new ArrayList<>();
    private final BenchActuators actuators;
    private final BenchSensors sensors;
    private final PanelButtons buttons;

    /**
     * @param onSafetyEdge called from another thread when a safety contact moved; must only wake the scan
     */
    private Pi4jBench(Lines lines, Wiring wiring, Runnable onSafetyEdge) {
        opened.add(lines);
        try {
            Wiring.Pwm channel = wiring.pwm();
            SysfsPwm pwm =
                    SysfsPwm.open(
                            channel.tree(),
                            channel.chip(),
                            channel.channel(),
                            channel.frequency_Hz());
            opened.add(pwm);
            actuators = new BenchActuators(lines, wiring.pins(), pwm::duty);
            actuators.write(Outputs.SAFE);
            SlowSensors slow = new SlowSensors();
            watchMonitor(wiring.monitor(), slow);
            watchThermometers(wiring.thermometers(), slow);
            sensors = new BenchSensors(lines, wiring, slow);
            opened.add(sensors);
            buttons = new PanelButtons(lines, wiring.pins());
            for (Signal signal : WAKES) {
                if (sensors.has(signal)) {
                    LineThread waker =
                            LineThread.start(
                                    "wake " + signal.title(),
                                    sensors.line(signal),
                                    WAKE_PATIENCE_ns,
                                    edge_ns -> onSafetyEdge.run());
                    wakers.add(waker);
                    opened.add(waker);
                }
            }
        } catch (RuntimeException e) {
            closeAll();
            throw e;
        }
    }

    /**
     * Opens the bench of this board.
     *
     * @param onSafetyEdge called from another thread when a safety contact moved; must only wake the scan
     * @throws WiringException saying what is wrong and what to do, when the board or a wire is not as the wiring says
     */
    public static Pi4jBench open(Wiring wiring, Runnable onSafetyEdge) {
        for (Finding mistake : wiring.pins().mistakes()) {
            throw new WiringException(mistake);
        }
        return new Pi4jBench(GpioLines.open(), wiring, onSafetyEdge);
    }

    /** The same on other lines, for tests. */
    static Pi4jBench on(Lines lines, Wiring wiring, Runnable onSafetyEdge) {
        return new Pi4jBench(lines, wiring, onSafetyEdge);
    }

    private void watchMonitor(Wiring.Monitor wired, SlowSensors slow) {
        if (!wired.fitted()) {
            return;
        }
        I2cRegisters registers = I2cRegisters.open(wired.bus(), wired.address());
        opened.add(registers);
        PowerMonitor monitor = new PowerMonitor(registers, wired.shunt_mOhm());
        Map<Sensor, DoubleSupplier> sources = new EnumMap<>(Sensor.class);
        sources.put(Sensor.SUPPLY_VOLTAGE, monitor::supply_V);
        sources.put(Sensor.MOTOR_CURRENT, monitor::current_A);
        slow.watch("power monitor", MONITOR_PAUSE_ms, sources);
    }

    private static void watchThermometers(Wiring.Thermometers thermometers, SlowSensors slow) {
        Map<Sensor, DoubleSupplier> sources = new EnumMap<>(Sensor.class);
        add(sources, Sensor.MOTOR_TEMPERATURE, thermometers, thermometers.motor());
        add(sources, Sensor.SPIRIT_TEMPERATURE, thermometers, thermometers.spirit());
        add(sources, Sensor.AMBIENT_TEMPERATURE, thermometers, thermometers.ambient());
        if (!sources.isEmpty()) {
            slow.watch("thermometers", THERMOMETER_PAUSE_ms, sources);
        }
    }

    private static void add(
            Map<Sensor, DoubleSupplier> sources,
            Sensor sensor,
            Wiring.Thermometers thermometers,
            String id) {
        if (!id.isEmpty()) {
            sources.put(sensor, new OneWireTemperature(thermometers.devices(), id)::read_C);
        }
    }

    public Sensors sensors() {
        return sensors;
    }

    public Actuators actuators() {
        return actuators;
    }

    /** The buttons; they carry no job. */
    public Panel buttons() {
        return buttons;
    }

    /** Drives everything safe, then gives it back. */
    @Override
    public void close() {
        actuators.write(Outputs.SAFE);
        closeAll();
    }

    /** In reverse order of opening; one that cannot be closed does not keep the others open. */
    private void closeAll() {
        wakers.forEach(LineThread::end);
        RuntimeException first = null;
        for (int i = opened.size() - 1; i >= 0; i--) {
            try {
                opened.get(i).close();
            } catch (Exception e) {
                if (first == null) {
                    first = new IllegalStateException("cannot give back " + opened.get(i), e);
                } else {
                    first.addSuppressed(e);
                }
            }
        }
        opened.clear();
        if (first != null) {
            throw first;
        }
    }
}
