package org.evenwash.controller.process;

import static org.assertj.core.api.Assertions.assertThat;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import java.time.Duration;
import org.evenwash.controller.sim.SimulatedBench;
import org.junit.jupiter.api.Test;

/** A scan that makes no garbage needs no exotic collector. */
class AllocationTest {
    private static final long MOST_BYTES = 2048;

    @Test
    void steadyScan_allocatesAtMostTwoKibibytes_sensorsAndOutputsIncluded() {
        SimulatedBench bench = SimulatedBench.running(steady()).advance(Duration.ofMinutes(2));
        long running = bytesPerScan(bench, 5_000);
        bench.press(Command.STOP).until(State.STOPPED, Duration.ofSeconds(5));
        long idle = bytesPerScan(bench, 5_000);
        System.out.printf("a scan allocates %d bytes running, %d idle%n", running, idle);
        assertThat(running).isBetween(1L, MOST_BYTES);
        assertThat(idle).isBetween(1L, MOST_BYTES);
    }

    private static long bytesPerScan(SimulatedBench bench, int scans) {
        ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
        long thread = Thread.currentThread().getId();
        long before = threads.getThreadAllocatedBytes(thread);
        for (int i = 0; i < scans; i++) {
            bench.scan();
        }
        return (threads.getThreadAllocatedBytes(thread) - before) / scans;
    }

    private static Recipe steady() {
        Bout bout =
                new Bout(Duration.ofMinutes(10), 180, Duration.ofSeconds(1), Duration.ZERO, false);
        return new Recipe(
                "steady",
                "Steady",
                1,
                java.util.List.of(bout),
                1,
                Tolerances.USUAL,
                Duration.ofMinutes(1));
    }
}
