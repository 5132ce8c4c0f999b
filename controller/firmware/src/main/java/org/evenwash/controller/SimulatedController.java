package org.evenwash.controller;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import java.util.concurrent.locks.LockSupport;
import java.util.function.Consumer;
import java.util.function.Predicate;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.ProofRecord;
import org.evenwash.controller.process.Recipe;
import org.evenwash.controller.process.Sensor;
import org.evenwash.controller.process.Settings;
import org.evenwash.controller.process.State;
import org.evenwash.controller.process.Status;
import org.evenwash.controller.sim.Fault;
import org.evenwash.controller.sim.SimulatedPlant;
import org.evenwash.controller.store.OutboxRefused;
import org.evenwash.record.BenchState.LoadedTicket;

/**
 * The shipped controller on a simulated bench, for demonstrations and tests: same loop, machine,
 * outbox and broker link, and records marked as simulated. The methods are hands at that bench;
 * what they do happens in order, one act a scan. Where too many wait already, they wait too.
 *
 * <p>It comes up as a bench in use: stop chain proven yesterday, motor supply armed, a jar in every
 * position, cautions not yet acknowledged.
 */
public final class SimulatedController implements AutoCloseable {
    /** Longer than the machine needs to believe that a jar is out or in. */
    private static final Duration A_MOMENT = Duration.ofMillis(600);

    private static final long LOOK_AGAIN_NS = TimeUnit.MILLISECONDS.toNanos(5);

    private final SimulatedPlant plant;
    private final SimulatedTime time;
    private final Controller controller;
    private final Settings settings;
    private final AtomicReference<Status> status = new AtomicReference<>();
    private final Object shown = new Object();

    /**
     * How the simulation goes.
     *
     * @param speed 1 for real time; N for N times as fast
     * @param seed of the noise in its sensors
     * @param startAt what its wall clock shows when it comes up
     * @param bare true for a bench that nothing was done to: not proven, not armed, no jar
     */
    public record Play(double speed, long seed, Instant startAt, boolean bare) {
        public static Play faster(double speed) {
            return new Play(speed, 1, Instant.now(), false);
        }

        public Play startingAt(Instant at) {
            return new Play(speed, seed, at, bare);
        }
    }

    private SimulatedController(Configuration config, Play play, Consumer<Status> watcher)
            throws OutboxRefused {
        settings = config.settings();
        plant = new SimulatedPlant(play.seed());
        time = new SimulatedTime(play.speed(), play.startAt(), this::outboxBehind);
        long yesterday_ms = play.startAt().minus(Duration.ofDays(1)).toEpochMilli();
        controller =
                new Controller(
                        config.withEverySensor(),
                        new Controller.Bench(
                                true,
                                time,
                                time,
                                plant,
                                plant,
                                null,
                                play.bare()
                                        ? ProofRecord.NEVER
                                        : ProofRecord.earlier(yesterday_ms, true, 0)),
                        now -> {
                            show(now);
                            watcher.accept(now);
                        });
    }

    /** Starts the bench; it stands in IDLE with its lid closed. */
    public static SimulatedController start(Configuration config, Play play) throws OutboxRefused {
        return start(config, play, status -> {});
    }

    /**
     * @param watcher gets every status shown, on the scan's thread; must not block
     */
    public static SimulatedController start(
            Configuration config, Play play, Consumer<Status> watcher) throws OutboxRefused {
        SimulatedController bench = new SimulatedController(config, play, watcher);
        bench.controller.start();
        if (!play.bare()) {
            bench.pause(A_MOMENT).insertJars().pause(A_MOMENT).rearm();
        }
        return bench;
    }

    private boolean outboxBehind() {
        return controller.outbox().waiting() > 0;
    }

    private void show(Status now) {
        synchronized (shown) {
            status.set(now);
            shown.notifyAll();
        }
    }

    public SimulatedController press(Command button) {
        return queued(panel -> panel.press(button));
    }

    public SimulatedController choose(Choice choice) {
        return queued(panel -> panel.choose(choice));
    }

    /** Picks the recipe that runs when no ticket is loaded. */
    public SimulatedController choose(Recipe recipe) {
        controller.choose(recipe);
        return this;
    }

    /** Lets the bench's time pass before the next act. */
    public SimulatedController pause(Duration length) {
        return queued(panel -> panel.pause(length, time));
    }

    /** From now on the bench's time passes {@code speed} times as fast as real time. */
    public SimulatedController pace(double speed) {
        time.pace(speed);
        return this;
    }

    /** Steps the bench's wall clock, forward or (negative) back. */
    public SimulatedController stepClock(Duration by) {
        time.step(by);
        return this;
    }

    /** Does something to the simulated bench, on the scan's thread. */
    public SimulatedController act(Consumer<SimulatedPlant> deed) {
        return queued(panel -> panel.act(() -> deed.accept(plant)));
    }

    private SimulatedController queued(Predicate<LocalPanel> act) {
        queued(act, Long.MAX_VALUE);
        return this;
    }

    /** Waits while too many acts wait already, so that none is lost; false when that took longer. */
    private boolean queued(Predicate<LocalPanel> act, long atMost_ns) {
        long start_ns = System.nanoTime();
        while (!act.test(controller.panel())) {
            if (controller.ended() || Thread.currentThread().isInterrupted()) {
                throw new IllegalStateException("the bench has ended and takes no more acts");
            }
            if (System.nanoTime() - start_ns > atMost_ns) {
                return false;
            }
            LockSupport.parkNanos(LOOK_AGAIN_NS);
        }
        return true;
    }

    public SimulatedController openLid() {
        return act(p -> p.lid(false));
    }

    public SimulatedController closeLid() {
        return act(p -> p.lid(true));
    }

    public SimulatedController pressEStop() {
        return act(p -> p.pressEStop(true));
    }

    public SimulatedController releaseEStop() {
        return act(p -> p.pressEStop(false));
    }

    /** Presses the reset button of the motor supply. */
    public SimulatedController rearm() {
        return act(SimulatedPlant::rearm).pause(A_MOMENT);
    }

    public SimulatedController insertJars() {
        return act(p -> jars(p, true));
    }

    public SimulatedController removeJars() {
        return act(p -> jars(p, false));
    }

    private void jars(SimulatedPlant p, boolean present) {
        for (int position = 1; position <= settings.positions(); position++) {
            p.jar(position, present);
        }
    }

    /** Opens the lid, swaps the jars for the next ones, closes the lid and re-arms the supply. */
    public SimulatedController changeJars() {
        openLid().pause(A_MOMENT).removeJars().pause(A_MOMENT).insertJars().pause(A_MOMENT);
        return closeLid().pause(A_MOMENT).rearm();
    }

    public SimulatedController fail(Sensor sensor, Fault fault) {
        return act(p -> p.fail(sensor, fault));
    }

    public SimulatedController mend(Sensor sensor) {
        return act(p -> p.fail(sensor, Fault.NONE));
    }

    /** What the panel shows; null before the first scan. */
    public Status status() {
        return status.get();
    }

    public State state() {
        Status now = status.get();
        return now == null ? State.IDLE : now.state();
    }

    /** Tickets that the bench has accepted and not yet run. */
    public List<LoadedTicket> tickets() {
        return controller.desk().tickets();
    }

    public boolean connected() {
        return controller.broker().connected();
    }

    public UUID outboxId() {
        return controller.outbox().outboxId();
    }

    /** Messages that the logger has not confirmed. */
    public long unsent() {
        return controller.outbox().depth();
    }

    /** Waits in real time until all acts so far are done; false when it took longer. */
    public boolean settle(Duration atMost) {
        long start_ns = System.nanoTime();
        CountDownLatch done = new CountDownLatch(1);
        try {
            return queued(panel -> panel.act(done::countDown), atMost.toNanos())
                    && done.await(
                            atMost.toNanos() - (System.nanoTime() - start_ns),
                            TimeUnit.NANOSECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return false;
        }
    }

    /** Waits in real time; false when it did not come to that. */
    public boolean await(State wanted, Duration atMost) {
        return await(now -> now.state() == wanted, atMost);
    }

    public boolean await(Predicate<Status> wanted, Duration atMost) {
        long end_ns = System.nanoTime() + atMost.toNanos();
        synchronized (shown) {
            while (status.get() == null || !wanted.test(status.get())) {
                long left_ms = TimeUnit.NANOSECONDS.toMillis(end_ns - System.nanoTime());
                if (left_ms <= 0) {
                    return false;
                }
                try {
                    shown.wait(left_ms);
                } catch (InterruptedException e) {
                    Thread.currentThread().interrupt();
                    return false;
                }
            }
            return true;
        }
    }

    Controller controller() {
        return controller;
    }

    /** As SIGTERM would: motor off, record stored. */
    @Override
    public void close() {
        controller.close();
    }
}
