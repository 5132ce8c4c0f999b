package org.evenwash.controller.pi4j;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import java.util.function.DoubleSupplier;
import org.evenwash.controller.process.Reading;
import org.evenwash.controller.process.Sensor;

/**
 * Sensors that take longer than a scan may: each is asked over and over by a thread, and the scan takes the last answer with
 * its age. A sensor that gives nothing keeps its old time, so that it grows stale instead of looking fresh.
 */
final class SlowSensors implements AutoCloseable {
    private record Answer(double value, long asked_ns) {}

    /** One sensor's last good answer; written by its thread, read by the scan. */
    private static final class Slot {
        private volatile Answer latest;
    }

    private final Map<Sensor, Slot> slots = new EnumMap<>(Sensor.class);
    private final List<Thread> threads = new ArrayList<>();
    private volatile boolean closing;

    SlowSensors() {
        for (Sensor sensor : Sensor.values()) {
            slots.put(sensor, new Slot());
        }
    }

    /**
     * Starts a thread that asks these sensors in turn; those on one bus share one thread.
     *
     * @param sources each gives the value, NaN for none; may block
     */
    void watch(String name, long pause_ms, Map<Sensor, DoubleSupplier> sources) {
        Thread thread =
                new Thread(
                        () -> {
                            while (!closing) {
                                sources.forEach(this::ask);
                                LockSupport.parkNanos(TimeUnit.MILLISECONDS.toNanos(pause_ms));
                            }
                        },
                        name);
        thread.setDaemon(true);
        threads.add(thread);
        thread.start();
    }

    private void ask(Sensor sensor, DoubleSupplier source) {
        // The time before the question: a value is never younger than the moment it was asked for.
        long asked_ns = System.nanoTime();
        double value = source.getAsDouble();
        if (!Double.isNaN(value)) {
            slots.get(sensor).latest = new Answer(value, asked_ns);
        }
    }

    /** The last good answer by the scan's clock, {@link Reading#MISSING} before the first. */
    Reading latest(Sensor sensor, long uptime_ns) {
        Answer latest = slots.get(sensor).latest;
        return latest == null
                ? Reading.MISSING
                : new Reading(latest.value, uptime_ns - (System.nanoTime() - latest.asked_ns));
    }

    @Override
    public void close() {
        closing = true;
        threads.forEach(LockSupport::unpark);
    }
}
