package org.evenwash.controller.pi4j;

import java.util.EnumMap;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.evenwash.controller.pi4j.Lines.InputLine;
import org.evenwash.controller.pi4j.PinMap.Pin;
import org.evenwash.controller.port.Sensors;
import org.evenwash.controller.process.Contact;
import org.evenwash.controller.process.Reading;
import org.evenwash.controller.process.Readings;
import org.evenwash.controller.process.Sensor;

/** All sensors: contacts by their level at each scan, the shaft by its pulses, the slow ones by their last answer. */
final class BenchSensors implements Sensors, AutoCloseable {
    /** A standing shaft gives no pulse: the thread looks up often enough for its own silence to be noticed. */
    private static final long TACHOMETER_PATIENCE_ns = TimeUnit.MILLISECONDS.toNanos(50);

    private static final long STANDSTILL_ns = TimeUnit.SECONDS.toNanos(1);

    /** A contact line with its polarity. */
    private record ContactLine(Pin pin, InputLine line) {
        /** A line that cannot be read is MISSING, whatever the reason: the interlock names it. */
        Contact read() {
            try {
                return pin.isActive(line.level()) ? Contact.CLOSED : Contact.OPEN;
            } catch (RuntimeException unreadable) {
                return Contact.MISSING;
            }
        }
    }

    private final Map<Signal, ContactLine> contacts = new EnumMap<>(Signal.class);
    private final ContactLine[] jars;
    private final SpeedFromPulses speed;
    private final LineThread tachometer;
    private final SlowSensors slow;

    /**
     * @param slow already watching; closed with this
     */
    BenchSensors(Lines lines, Wiring wiring, SlowSensors slow) {
        this.slow = slow;
        for (Pin pin : wiring.pins().pins()) {
            if (pin.signal().kind() == Signal.Kind.CONTACT) {
                InputLine line =
                        lines.input(pin.gpio(), pin.pull(), "evenwash " + pin.signal().title());
                contacts.put(pin.signal(), new ContactLine(pin, line));
            }
        }
        jars = new ContactLine[8];
        for (int position = 1; position <= jars.length; position++) {
            jars[position - 1] = contacts.get(Signal.jar(position));
        }
        Pin pulses = wiring.pins().pin(Signal.TACHOMETER).orElseThrow();
        speed =
                new SpeedFromPulses(
                        wiring.tachometer().pulsesPerRevolution(),
                        STANDSTILL_ns,
                        wiring.tachometer().fastest_rpm());
        tachometer =
                LineThread.start(
                        "tachometer",
                        lines.pulses(
                                pulses.gpio(),
                                pulses.pull(),
                                pulses.active(),
                                "evenwash tachometer"),
                        TACHOMETER_PATIENCE_ns,
                        speed::pulse);
    }

    @Override
    public Readings read(long uptime_ns) {
        int present = 0;
        int unread = 0;
        for (int i = 0; i < jars.length; i++) {
            Contact jar = jars[i] == null ? Contact.MISSING : jars[i].read();
            present |= jar == Contact.CLOSED ? 1 << i : 0;
            unread |= jar == Contact.MISSING ? 1 << i : 0;
        }
        return new Readings(
                contact(Signal.E_STOP),
                contact(Signal.LID),
                contact(Signal.GUARD),
                contact(Signal.CONTACTOR),
                contact(Signal.DRIVER),
                present,
                unread,
                shaft(uptime_ns),
                slow.latest(Sensor.MOTOR_TEMPERATURE, uptime_ns),
                slow.latest(Sensor.SPIRIT_TEMPERATURE, uptime_ns),
                slow.latest(Sensor.AMBIENT_TEMPERATURE, uptime_ns),
                slow.latest(Sensor.SUPPLY_VOLTAGE, uptime_ns),
                slow.latest(Sensor.MOTOR_CURRENT, uptime_ns));
    }

    private Contact contact(Signal signal) {
        ContactLine line = contacts.get(signal);
        return line == null ? Contact.MISSING : line.read();
    }

    /** As fresh as the thread that counts: when it dies, the reading ages and the interlock names the tachometer. */
    private Reading shaft(long uptime_ns) {
        long now_ns = System.nanoTime();
        long silence_ns = now_ns - tachometer.alive_ns();
        return new Reading(speed.speed_rpm(now_ns), uptime_ns - Math.max(0, silence_ns));
    }

    /** The line of a contact, for whoever wants to be woken by it. */
    InputLine line(Signal signal) {
        return contacts.get(signal).line;
    }

    /** Whether this bench has that contact. */
    boolean has(Signal signal) {
        return contacts.containsKey(signal);
    }

    @Override
    public void close() {
        tachometer.close();
        slow.close();
    }
}
