package org.evenwash.controller.pi4j.bench;

import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.locks.LockSupport;
import java.util.function.BooleanSupplier;
import org.evenwash.controller.pi4j.Level;
import org.evenwash.controller.pi4j.PinMap;
import org.evenwash.controller.pi4j.Signal;

/**
 * The other end of the simulated lines: the kernel's files through which a test holds an input at a level and sees what an
 * output drives. A program that takes a line lets the simulator fall back to that program's pull, so a thread keeps holding
 * what the contacts hold, as real wires would.
 */
public final class Wires implements AutoCloseable {
    private static final Duration HOLD_AGAIN = Duration.ofMillis(100);
    private static final Duration LOOK_EVERY = Duration.ofMillis(20);
    private static final Duration COUNT_EVERY = Duration.ofMillis(4);

    private final Path lines;
    private final Map<Integer, Level> held = new ConcurrentHashMap<>();
    private final Map<Integer, KernelFile> pulls = new ConcurrentHashMap<>();
    private final Map<Integer, KernelFile> values = new ConcurrentHashMap<>();
    private final Thread holder = new Thread(this::keepHolding, "wires");
    private volatile boolean closing;

    /**
     * @param lines the simulated chip's folder with {@code sim_gpioN} in it
     */
    public Wires(Path lines) {
        this.lines = lines;
        holder.setDaemon(true);
        holder.start();
    }

    private void keepHolding() {
        while (!closing) {
            holdAllAgain();
            LockSupport.parkNanos(HOLD_AGAIN.toNanos());
        }
    }

    private void write(int gpio, Level level) {
        pulls.computeIfAbsent(gpio, line -> file(line, "pull", StandardOpenOption.WRITE))
                .write(level == Level.HIGH ? "pull-up" : "pull-down");
    }

    private KernelFile file(int gpio, String name, StandardOpenOption how) {
        return KernelFile.open(lines.resolve("sim_gpio" + gpio).resolve(name), how);
    }

    /** Holds an input at a level from now on. One at a time: the thread must not put an old level back. */
    public synchronized void hold(int gpio, Level level) {
        held.put(gpio, level);
        write(gpio, level);
    }

    /** Holds an input of the default map as its contact or button would. */
    public void set(Signal signal, boolean active) {
        PinMap.Pin pin = PinMap.DEFAULT.pin(signal).orElseThrow();
        hold(pin.gpio(), active ? pin.active() : pin.active().inverted());
    }

    /** Holds everything at once again, without waiting for the thread. */
    public synchronized void holdAllAgain() {
        held.forEach(this::write);
    }

    /** Lets an input go: it follows whatever pull it is given. */
    public synchronized void release(int gpio) {
        held.remove(gpio);
    }

    /** The level on a line now. */
    public Level level(int gpio) {
        KernelFile value =
                values.computeIfAbsent(gpio, line -> file(line, "value", StandardOpenOption.READ));
        return value.number() == 1 ? Level.HIGH : Level.LOW;
    }

    /** Changes of level seen on a line in a stretch of time. */
    public int changes(int gpio, Duration stretch) {
        long begun_ns = System.nanoTime();
        int changes = 0;
        Level last = level(gpio);
        while (System.nanoTime() - begun_ns < stretch.toNanos()) {
            LockSupport.parkNanos(COUNT_EVERY.toNanos());
            Level now = level(gpio);
            changes += now == last ? 0 : 1;
            last = now;
        }
        return changes;
    }

    /** Waits until something is so; says what was awaited when it does not come. */
    public static void await(String what, Duration limit, BooleanSupplier so) {
        long begun_ns = System.nanoTime();
        while (!so.getAsBoolean()) {
            if (System.nanoTime() - begun_ns > limit.toNanos()) {
                throw new AssertionError("not within " + limit + ": " + what);
            }
            LockSupport.parkNanos(LOOK_EVERY.toNanos());
        }
    }

    /** Waits for a thread that was told to end. */
    static void join(Thread thread) {
        try {
            thread.join();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    @Override
    public void close() {
        closing = true;
        join(holder);
        pulls.values().forEach(KernelFile::close);
        values.values().forEach(KernelFile::close);
    }
}
