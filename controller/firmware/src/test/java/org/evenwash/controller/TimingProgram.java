package org.evenwash.controller;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import java.util.function.LongSupplier;
import org.evenwash.controller.config.ConfigurationFile;
import org.evenwash.controller.port.Actuators;
import org.evenwash.controller.port.Clock;
import org.evenwash.controller.port.Outbox;
import org.evenwash.controller.port.Panel;
import org.evenwash.controller.port.Publisher;
import org.evenwash.controller.port.Sensors;
import org.evenwash.controller.process.Bout;
import org.evenwash.controller.process.Entry;
import org.evenwash.controller.process.Job;
import org.evenwash.controller.process.OutboxState;
import org.evenwash.controller.process.Recipe;
import org.evenwash.controller.process.RemoteRequest;
import org.evenwash.controller.process.Settings;
import org.evenwash.controller.process.Status;
import org.evenwash.controller.process.Tolerances;
import org.evenwash.controller.sim.SimulatedBench;

/**
 * The real loop on a simulated plant in real time, in a Java of its own with the shipped flags: how late its scans and the
 * phases of a recipe come, and how long an edge takes to switch the motor off. Started by {@link LoopBenchmarkTest}.
 */
final class TimingProgram {
    private static final long PERIOD_NS = TimeUnit.MILLISECONDS.toNanos(10);
    private static final Duration PHASE = Duration.ofSeconds(1);
    private static final int WARM_UP_SCANS = 50_000;
    private static final int HOUR_SCANS = 360_000;
    private static final int EDGES = 100;

    /** As shipped, but a late scan under load is what is to be measured, not a reason to stop. */
    private static final Settings PATIENT =
            Patience.with(ConfigurationFile.shipped().withEverySensor().settings());

    private TimingProgram() {}

    /**
     * @param args seconds to watch; {@code hour} to go through an hour of scans at the end, as fast as they go
     */
    public static void main(String[] args) throws Exception {
        scans(WARM_UP_SCANS);
        watch(Duration.ofSeconds(Long.parseLong(args[0])));
        react();
        if (args.length > 1) {
            scans(HOUR_SCANS);
        }
    }

    /** Scans in virtual time. */
    private static void scans(int count) {
        SimulatedBench bench = running(Duration.ofMinutes(20));
        long[] now_ns = {bench.machine().uptime_ns()};
        ControlLoop loop = loop(bench, () -> now_ns[0], bench.plant(), bench.plant());
        for (int i = 0; i < count; i++) {
            now_ns[0] += PERIOD_NS;
            loop.scan(now_ns[0]);
        }
    }

    private static void watch(Duration length) throws InterruptedException {
        SimulatedBench bench = running(PHASE);
        LongSupplier clock = from(bench.machine().uptime_ns());
        List<Long> late_ns = new ArrayList<>();
        List<Long> phases_ns = new ArrayList<>();
        long[] due_ns = {0};
        Sensors sensors =
                now_ns -> {
                    if (due_ns[0] > 0) {
                        late_ns.add(now_ns - due_ns[0]);
                    }
                    due_ns[0] = due_ns[0] == 0 ? now_ns : due_ns[0];
                    while (due_ns[0] <= now_ns) {
                        due_ns[0] += PERIOD_NS;
                    }
                    return bench.plant().read(now_ns);
                };
        boolean[] on = {true};
        long[] since_ns = {0};
        Actuators actuators =
                outputs -> {
                    bench.plant().write(outputs);
                    if (outputs.driveOn() != on[0]) {
                        long now_ns = System.nanoTime();
                        if (since_ns[0] > 0) {
                            phases_ns.add(now_ns - since_ns[0] - PHASE.toNanos());
                        }
                        on[0] = outputs.driveOn();
                        since_ns[0] = now_ns;
                    }
                };
        ControlLoop loop = loop(bench, clock, sensors, actuators);
        Thread scan = new Thread(loop, "scan");
        scan.start();
        LockSupport.parkNanos(length.toNanos());
        loop.close();
        scan.join();
        // The last phase was cut short by the end.
        print("scan lateness", late_ns);
        print("phase boundary lateness", phases_ns.subList(0, phases_ns.size() - 1));
    }

    private static void react() throws Exception {
        SplittableRandom random = new SplittableRandom(7);
        List<Long> reactions_ns = new ArrayList<>();
        for (int i = 0; i < EDGES; i++) {
            reactions_ns.add(reaction_ns(random.nextLong(20_000_000L, 50_000_000L)));
        }
        print("edge to motor off", reactions_ns);
    }

    /** From the moment at which the emergency stop's edge wakes the scan to the output that switches the motor off. */
    private static long reaction_ns(long after_ns) throws Exception {
        SimulatedBench bench = running(Duration.ofMinutes(1));
        long[] edge_ns = {0};
        CompletableFuture<Long> off_ns = new CompletableFuture<>();
        Sensors sensors =
                now_ns -> {
                    synchronized (edge_ns) {
                        bench.plant().pressEStop(edge_ns[0] > 0);
                    }
                    return bench.plant().read(now_ns);
                };
        Actuators actuators =
                outputs -> {
                    bench.plant().write(outputs);
                    if (!outputs.driveOn()) {
                        off_ns.complete(System.nanoTime());
                    }
                };
        ControlLoop loop = loop(bench, from(bench.machine().uptime_ns()), sensors, actuators);
        Thread scan = new Thread(loop, "scan");
        scan.start();
        LockSupport.parkNanos(after_ns);
        synchronized (edge_ns) {
            edge_ns[0] = System.nanoTime();
        }
        loop.wake();
        long reaction_ns = off_ns.get(10, TimeUnit.SECONDS) - edge_ns[0];
        loop.close();
        scan.join();
        return reaction_ns;
    }

    private static LongSupplier from(long uptime_ns) {
        long start_ns = System.nanoTime();
        return () -> uptime_ns + System.nanoTime() - start_ns;
    }

    private static SimulatedBench running(Duration phase) {
        Bout bout = new Bout(phase, 120, Duration.ofMillis(200), phase, false);
        Recipe recipe =
                new Recipe(
                        "timing",
                        "Timing",
                        1,
                        List.of(bout),
                        50,
                        Tolerances.USUAL,
                        Duration.ofMinutes(1));
        return SimulatedBench.ready(PATIENT, Job.of(recipe), 1).start();
    }

    private static void print(String what, List<Long> times_ns) {
        long[] sorted = times_ns.stream().mapToLong(Long::longValue).sorted().toArray();
        System.out.println(line("controller, " + what, sorted, 1_000));
    }

    /** One line of the report: p50, p99 and the largest, in microseconds. */
    static String line(String what, long[] times, double perMicrosecond) {
        long[] sorted = times.clone();
        Arrays.sort(sorted);
        return String.format(
                Locale.ROOT,
                "%-40s p50 %8.0f  p99 %8.0f  max %8.0f µs  (%d)",
                what,
                sorted[sorted.length / 2] / perMicrosecond,
                sorted[(int) (sorted.length * 0.99)] / perMicrosecond,
                sorted[sorted.length - 1] / perMicrosecond,
                sorted.length);
    }

    private static ControlLoop loop(
            SimulatedBench bench, LongSupplier uptime_ns, Sensors sensors, Actuators actuators) {
        Clock clock =
                new Clock() {
                    @Override
                    public long uptime_ns() {
                        return uptime_ns.getAsLong();
                    }

                    @Override
                    public long wallClock_ms() {
                        return bench.inputs().wallClock_ms();
                    }

                    @Override
                    public boolean synchronised() {
                        return true;
                    }
                };
        return new ControlLoop(
                bench.machine(),
                new ControlLoop.Ports(
                        clock,
                        sensors,
                        actuators,
                        new Unattended(bench.inputs().job()),
                        cycle -> RemoteRequest.NONE,
                        new Prompt(),
                        new Nobody()),
                ControlLoop.REAL_TIME);
    }

    /** A panel that nobody touches. */
    private record Unattended(Job job) implements Panel {
        @Override
        public Pressed pressed() {
            return Pressed.NOTHING;
        }

        @Override
        public void show(Status status) {
            // Nobody looks.
        }
    }

    /** Storage without delay: its time is not what is measured here. */
    private static final class Prompt implements Outbox {
        private long appended;

        @Override
        public void append(Entry entry) {
            appended++;
        }

        @Override
        public long durable() {
            return Long.MAX_VALUE - appended;
        }

        @Override
        public OutboxState state() {
            return OutboxState.WRITABLE;
        }
    }

    private static final class Nobody implements Publisher {
        @Override
        public void state(Status status) {
            // What is shown costs as much as on a bench; where it goes does not matter here.
        }

        @Override
        public void live(Status status) {
            // What is shown costs as much as on a bench; where it goes does not matter here.
        }
    }
}
