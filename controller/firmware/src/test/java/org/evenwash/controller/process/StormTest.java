package org.evenwash.controller.process;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.Test;

/**
 * Many short lives of a bench, each full of faults, buttons and clock jumps from its seed, and
 * after every scan what must always hold. Every scan is executed. {@code -Dstorm.runs},
 * {@code -Dstorm.longest}, {@code -Dstorm.seed} and {@code -Dstorm.threads} change what is run;
 * {@code mvn -Pstorm} runs a million.
 */
class StormTest {
    private static final int RUNS = Integer.getInteger("storm.runs", 20_000);
    private static final long FIRST_SEED = Long.getLong("storm.seed", 1);
    private static final int THREADS = Integer.getInteger("storm.threads", 1);

    /** What one thread went through. */
    private record Totals(long runs, long scans, long virtual_ns, long cycles, long complete) {
        Totals plus(Totals o) {
            return new Totals(
                    runs + o.runs,
                    scans + o.scans,
                    virtual_ns + o.virtual_ns,
                    cycles + o.cycles,
                    complete + o.complete);
        }
    }

    @Test
    void whateverHappens_theInvariantsHold() throws Exception {
        long began_ns = System.nanoTime();
        ExecutorService pool = Executors.newFixedThreadPool(THREADS);
        List<Future<Totals>> parts = new ArrayList<>();
        for (int thread = 0; thread < THREADS; thread++) {
            int offset = thread;
            parts.add(pool.submit(() -> runs(offset)));
        }
        Totals all = new Totals(0, 0, 0, 0, 0);
        try {
            for (Future<Totals> part : parts) {
                all = all.plus(part.get());
            }
        } finally {
            pool.shutdownNow();
        }
        double wall_s = (System.nanoTime() - began_ns) * 1e-9;
        double hours = all.virtual_ns * 1e-9 / 3600;
        System.out.printf(
                Locale.ROOT,
                "storm: %d runs from seed %d, %d scans (%.0f a run), %d cycles (%d complete),"
                        + " %.1f simulated hours in %.1f s: %.2f simulated hours per second%n",
                all.runs,
                FIRST_SEED,
                all.scans,
                (double) all.scans / all.runs,
                all.cycles,
                all.complete,
                hours,
                wall_s,
                hours / wall_s);
        assertThat(all.runs).isEqualTo(RUNS);
        assertThat(all.cycles).as("a storm in which nothing runs shows nothing").isPositive();
        assertThat(all.complete).isPositive();
    }

    private static Totals runs(int offset) {
        long scans = 0;
        long virtual_ns = 0;
        long cycles = 0;
        long complete = 0;
        long count = 0;
        for (int run = offset; run < RUNS; run += THREADS) {
            long seed = FIRST_SEED + run;
            Storm storm = new Storm(seed);
            try {
                storm.rage();
            } catch (RuntimeException | AssertionError broken) {
                throw new AssertionError(
                        "seed "
                                + seed
                                + " (run it alone: -Dstorm.runs=1 -Dstorm.seed="
                                + seed
                                + "), scan "
                                + storm.bench().scans()
                                + ": "
                                + broken.getMessage(),
                        broken);
            }
            scans += storm.bench().scans();
            virtual_ns += storm.bench().inputs().uptime_ns();
            cycles += storm.log().started();
            complete += storm.log().complete();
            count++;
        }
        return new Totals(count, scans, virtual_ns, cycles, complete);
    }
}
