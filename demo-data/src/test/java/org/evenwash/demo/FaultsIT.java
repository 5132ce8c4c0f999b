package org.evenwash.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/**
 * Nothing lost under any single fault: the shipped programs as processes on loopback, three mishaps
 * each, at times that follow from the seed. 200 scenarios with {@code mvn -Pfaults verify}, 20
 * otherwise; {@code -Dfaults.seed=N} repeats one. Where nobody may mount a disk, those of disks are left out and that is
 * told; {@code -Dfaults.disks=required} fails there instead.
 */
@Tag("faults")
@Execution(ExecutionMode.CONCURRENT)
class FaultsIT {
    private static final int SCENARIOS = Integer.getInteger("evenwash.faults.scenarios", 20);
    private static final int AT_ONCE = Integer.getInteger("evenwash.faults.atOnce", 4);
    private static final boolean DISKS_REQUIRED =
            "required".equals(System.getProperty("evenwash.faults.disks"));
    private static final Long ONLY = Long.getLong("evenwash.faults.seed");

    @TempDir Path folder;

    private record Outcome(FaultPlan plan, Judge.Verdict verdict, AssertionError broken) {}

    @Test
    void everyCycleThatBegan_isInTheDatabaseOnce() throws Exception {
        Set<Mishap.Where> leftOut = leftOut();
        if (DISKS_REQUIRED) {
            assertThat(leftOut).as("not possible on this machine").isEmpty();
        }
        List<Long> seeds =
                ONLY != null && ONLY >= 0
                        ? List.of(ONLY)
                        : LongStream.range(0, SCENARIOS).boxed().toList();
        List<Outcome> outcomes = new ArrayList<>();
        ExecutorService workers = Executors.newFixedThreadPool(AT_ONCE);
        try {
            List<Future<Outcome>> all = new ArrayList<>();
            for (long seed : seeds) {
                all.add(workers.submit(() -> played(FaultPlan.of(seed, leftOut))));
            }
            for (Future<Outcome> one : all) {
                outcomes.add(one.get(60, TimeUnit.MINUTES));
            }
        } finally {
            workers.shutdownNow();
        }
        report(outcomes, leftOut);
    }

    /** What cannot be prepared on this machine. */
    private static Set<Mishap.Where> leftOut() {
        Set<Mishap.Where> leftOut = Set.of();
        if (!Disk.possible()) {
            leftOut = Mishap.Where.DISKS;
        } else if (!Card.possible()) {
            leftOut = Mishap.Where.CARDS;
        }
        if (!leftOut.isEmpty()) {
            System.out.printf(
                    "faults: LEFT OUT on this machine: %s. To have them run too, be root, on a"
                            + " machine that may mount %s.%n",
                    without(leftOut), leftOut == Mishap.Where.CARDS ? "image files" : "disks");
        }
        return leftOut;
    }

    private static String without(Set<Mishap.Where> leftOut) {
        return Stream.of(Mishap.values())
                .filter(mishap -> leftOut.contains(mishap.where()))
                .map(Mishap::name)
                .collect(Collectors.joining(", ", "without ", ""));
    }

    private Outcome played(FaultPlan plan) throws IOException {
        Path place = Files.createDirectories(folder.resolve("seed-" + plan.seed()));
        long start_ns = System.nanoTime();
        try (Trouble trouble = new Trouble(plan, place)) {
            try {
                trouble.happen();
                Judge.Verdict verdict = Judge.of(trouble);
                tell(plan, start_ns, verdict.clean() ? "" + verdict.cycles() : "" + verdict);
                if (!verdict.clean()) {
                    System.out.println(trouble.yard().story());
                }
                return new Outcome(plan, verdict, null);
            } catch (IOException | RuntimeException | AssertionError e) {
                tell(plan, start_ns, "broken: " + e.getMessage());
                return new Outcome(plan, null, new AssertionError(plan.toString(), e));
            }
        }
    }

    private static void tell(FaultPlan plan, long start_ns, String cycles) {
        long took_s = TimeUnit.NANOSECONDS.toSeconds(System.nanoTime() - start_ns);
        System.out.printf("faults: %s; %d s, cycles: %s%n", plan, took_s, cycles);
    }

    private static void report(List<Outcome> outcomes, Set<Mishap.Where> leftOut) {
        int cycles = 0;
        Map<String, Integer> endings = new TreeMap<>();
        int toldGone = 0;
        int lost = 0;
        int duplicated = 0;
        int unexplained = 0;
        List<String> failed = new ArrayList<>();
        AssertionError first = null;
        for (Outcome outcome : outcomes) {
            Judge.Verdict verdict = outcome.verdict();
            if (verdict == null) {
                failed.add(outcome.plan() + ": " + outcome.broken().getCause().getMessage());
                first = first == null ? outcome.broken() : first;
                continue;
            }
            cycles += verdict.cycles();
            verdict.endings().forEach(ending -> endings.merge(ending, 1, Integer::sum));
            toldGone += verdict.toldGone().size();
            lost += verdict.lost().size();
            duplicated += verdict.duplicated().size();
            unexplained += verdict.unexplained().size();
            if (!verdict.clean()) {
                failed.add(outcome.plan() + ": " + verdict);
            }
        }
        System.out.printf(
                "faults: %d scenarios%s, %d cycles begun: %d lost, %d duplicated, %d unexplained,"
                        + " %d scenarios broken; %d stood in a damaged outbox, whose salvage told that"
                        + " they are gone, the others ended %s%n",
                outcomes.size(),
                leftOut.isEmpty() ? "" : " (" + without(leftOut) + ")",
                cycles,
                lost,
                duplicated,
                unexplained,
                outcomes.stream().filter(outcome -> outcome.verdict() == null).count(),
                toldGone,
                endings);
        if (!failed.isEmpty()) {
            throw new AssertionError(
                    "repeat one with -Dfaults.seed=N:\n" + String.join("\n", failed), first);
        }
        assertThat(cycles).as("cycles begun").isGreaterThanOrEqualTo(outcomes.size());
    }
}
