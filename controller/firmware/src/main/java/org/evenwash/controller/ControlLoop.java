package org.evenwash.controller;

import java.util.List;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.locks.LockSupport;
import org.evenwash.controller.port.Actuators;
import org.evenwash.controller.port.Clock;
import org.evenwash.controller.port.Outbox;
import org.evenwash.controller.port.Panel;
import org.evenwash.controller.port.Publisher;
import org.evenwash.controller.port.Remote;
import org.evenwash.controller.port.Sensors;
import org.evenwash.controller.process.Entry;
import org.evenwash.controller.process.Inputs;
import org.evenwash.controller.process.Machine;
import org.evenwash.controller.process.Outputs;
import org.evenwash.controller.process.State;
import org.evenwash.controller.process.Status;
import org.evenwash.record.Ids;

/**
 * The one thread that moves anything: read everything, step, write everything, every 10 ms on
 * absolute deadlines of the monotonic clock. Everything else only leaves things for the next scan
 * to find. When it ends, for whatever reason, the outputs are safe; when it hangs, the heartbeat
 * stops and the one-shot in the stop chain cuts the motor.
 */
final class ControlLoop implements Runnable {
    /** Panel, publisher and wall clock marks need no more than this, in scans. */
    private static final int SHOW_EVERY = 20;

    private final Ports ports;
    private final Pace pace;
    private final long period_ns;
    private Machine machine;
    private Inputs inputs;
    private UUID nextCycleId = Ids.next();
    private int scansSinceShown = SHOW_EVERY;
    private State shown;
    private final AtomicLong scans = new AtomicLong();
    private volatile Thread thread;
    private volatile boolean early;
    private volatile boolean closing;
    private volatile boolean ended;
    private volatile Throwable cause;

    /** The world, in the words of the process. */
    record Ports(
            Clock clock,
            Sensors sensors,
            Actuators actuators,
            Panel panel,
            Remote remote,
            Outbox outbox,
            Publisher publisher) {}

    /** How the loop waits for its next deadline: the difference between real and faster time. */
    interface Pace {
        /**
         * Waits until {@code deadline_ns} of the loop's clock, or shorter when unparked.
         *
         * @param now_ns the clock's present reading
         */
        void await(long now_ns, long deadline_ns);
    }

    /** As fast as the clock on the wall. */
    static final Pace REAL_TIME =
            (now_ns, deadline_ns) -> LockSupport.parkNanos(deadline_ns - now_ns);

    ControlLoop(Machine machine, Ports ports, Pace pace) {
        this.machine = machine;
        this.ports = ports;
        this.pace = pace;
        this.period_ns = machine.settings().period().toNanos();
    }

    /** Runs until the program closes and the machine stands still, or until something breaks. */
    @Override
    public void run() {
        thread = Thread.currentThread();
        try {
            long deadline_ns = ports.clock().uptime_ns();
            while (!finished()) {
                long now_ns = ports.clock().uptime_ns();
                scan(now_ns);
                deadline_ns = nextDeadline(deadline_ns, ports.clock().uptime_ns());
                waitFor(deadline_ns);
            }
        } catch (RuntimeException | Error e) {
            cause = e;
            throw e;
        } finally {
            ended = true;
            ports.actuators().write(Outputs.SAFE);
        }
    }

    /** One scan; the simulation in virtual time and the real bench share it. */
    void scan(long now_ns) {
        early = false;
        Panel.Pressed pressed = ports.panel().pressed();
        inputs =
                new Inputs(
                        now_ns,
                        ports.clock().wallClock_ms(),
                        ports.clock().synchronised(),
                        pressed.command(),
                        pressed.choice(),
                        ports.remote().take(machine.cycleId()),
                        ports.sensors().read(now_ns),
                        ports.panel().job(),
                        nextCycleId,
                        ports.outbox().durable(),
                        ports.outbox().state(),
                        closing);
        machine = Machine.step(machine, inputs);
        ports.actuators().write(Outputs.of(machine));
        hand(machine.entries());
        if (nextCycleId.equals(machine.cycleId())) {
            nextCycleId = Ids.next();
        }
        if (++scansSinceShown >= SHOW_EVERY || machine.state() != shown) {
            scansSinceShown = 0;
            shown = machine.state();
            show();
        }
        scans.lazySet(scans.get() + 1);
    }

    private void hand(List<Entry> entries) {
        for (int i = 0; i < entries.size(); i++) {
            ports.outbox().append(entries.get(i));
        }
    }

    private void show() {
        Status status = Status.of(machine, inputs);
        ports.panel().show(status);
        ports.publisher().state(status);
        if (status.cycleId() != null) {
            ports.publisher().live(status);
        }
    }

    /**
     * The next multiple of the period. A scan that an edge woke early does not use its deadline up. After a late scan the missed deadlines are left out, not made
     * up for: the machine reckons with the time that really passed.
     */
    private long nextDeadline(long last_ns, long now_ns) {
        if (now_ns < last_ns) {
            return last_ns;
        }
        long next_ns = last_ns + period_ns;
        return next_ns >= now_ns ? next_ns : now_ns - (now_ns - last_ns) % period_ns + period_ns;
    }

    private void waitFor(long deadline_ns) {
        long now_ns = ports.clock().uptime_ns();
        while (now_ns < deadline_ns && !early) {
            pace.await(now_ns, deadline_ns);
            now_ns = ports.clock().uptime_ns();
        }
    }

    /** The machine has seen that the program ends, and has nothing left to do. */
    private boolean finished() {
        return inputs != null
                && inputs.closing()
                && machine.cycleId() == null
                && !machine.drive().on();
    }

    /** A safety contact moved: the next scan begins at once. From any thread. */
    void wake() {
        early = true;
        LockSupport.unpark(thread);
    }

    /** Asks the machine to stop and the loop to end once the motor is off. From any thread. */
    void close() {
        closing = true;
        wake();
    }

    /** Scans made, whole ones. From any thread. */
    long scans() {
        return scans.get();
    }

    boolean ended() {
        return ended;
    }

    /** What broke the loop; null while nothing has. */
    Throwable cause() {
        return cause;
    }
}
