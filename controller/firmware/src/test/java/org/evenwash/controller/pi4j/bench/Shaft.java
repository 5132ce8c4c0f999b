package org.evenwash.controller.pi4j.bench;

import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.concurrent.locks.LockSupport;
import org.evenwash.controller.pi4j.Level;
import org.evenwash.controller.pi4j.PinMap;
import org.evenwash.controller.pi4j.Signal;

/** A motor that turns as the driver's inputs say while it has supply, and the pulses of its tachometer. */
final class Shaft implements AutoCloseable {
    static final int PULSES_PER_REVOLUTION = 4;
    private static final double FULL_rpm = 400;
    private static final double LAG_s = 0.2;
    private static final long STEP_ns = 5_000_000L;

    /** How soon it begins to turn: looking costs the emulator most. */
    private static final long REST_ns = 25_000_000L;

    private static final Path CHANNEL = Path.of("/sys/class/pwm/pwmchip0/pwm0");

    private final Wires wires;
    private final StopChain chain;
    private final Thread thread = new Thread(this::turn, "shaft");
    private KernelFile enable;
    private KernelFile period;
    private KernelFile dutyCycle;
    private volatile boolean blocked;
    private volatile double forced_rpm;
    private volatile boolean ending;
    private volatile double speed_rpm;

    Shaft(Wires wires, StopChain chain) {
        this.wires = wires;
        this.chain = chain;
        thread.setDaemon(true);
        thread.start();
    }

    private void turn() {
        double turned = 0;
        long last_ns = System.nanoTime();
        boolean high = true;
        while (!ending) {
            LockSupport.parkNanos(speed_rpm > 0 ? STEP_ns : REST_ns);
            long now_ns = System.nanoTime();
            double elapsed_s = (now_ns - last_ns) * 1e-9;
            last_ns = now_ns;
            double wanted_rpm = forced_rpm > 0 ? forced_rpm : driven() ? duty() * FULL_rpm : 0;
            double now_rpm = speed_rpm + (wanted_rpm - speed_rpm) * Math.min(1, elapsed_s / LAG_s);
            boolean stands = blocked || (now_rpm < 1 && wanted_rpm == 0);
            speed_rpm = stands ? 0 : now_rpm;
            turned += speed_rpm / 60 * elapsed_s;
            // A slot passes twice a pulse: half the time dark, half the time light.
            boolean light = Math.floorMod((long) (turned * PULSES_PER_REVOLUTION * 2), 2) == 0;
            if (light != high) {
                high = light;
                wires.set(Signal.TACHOMETER, !light);
            }
        }
    }

    boolean driven() {
        return chain.closed() && level(Signal.DRIVE_ENABLE) == Level.HIGH && duty() > 0;
    }

    private Level level(Signal signal) {
        return wires.level(PinMap.DEFAULT.pin(signal).orElseThrow().gpio());
    }

    /** What the PWM channel gives, 0 to 1. */
    synchronized double duty() {
        if (enable == null) {
            if (!Files.exists(CHANNEL)) {
                return 0;
            }
            enable = open("enable");
            period = open("period");
            dutyCycle = open("duty_cycle");
        }
        long period_ns = enable.number() == 0 ? 0 : period.number();
        return period_ns == 0 ? 0 : (double) dutyCycle.number() / period_ns;
    }

    private static KernelFile open(String file) {
        return KernelFile.open(CHANNEL.resolve(file), StandardOpenOption.READ);
    }

    double speed_rpm() {
        return speed_rpm;
    }

    /** Something holds it fast. */
    void block(boolean fast) {
        blocked = fast;
    }

    /** Turns at this speed whatever the driver says, as behind one that is stuck on; 0 to let it go. */
    void force(double rpm) {
        forced_rpm = rpm;
    }

    @Override
    public void close() {
        ending = true;
        Wires.join(thread);
    }
}
