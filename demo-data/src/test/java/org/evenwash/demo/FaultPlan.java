package org.evenwash.demo;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.Collectors;

/**
 * A set-up and what goes wrong there, one mishap after the other, all derived from a seed.
 *
 * @param steps in order
 */
record FaultPlan(long seed, SetUp setUp, List<Step> steps) {
    private static final int STEPS = 3;
    private static final int LONGEST_CALM_MS = 1_500;

    /**
     * @param calm_ms work goes on as usual for that long before
     * @param lasts_ms and this long with the mishap
     */
    record Step(Mishap mishap, int calm_ms, int lasts_ms) {}

    /**
     * @param disks whether the disk can be made full and read-only here
     */
    static FaultPlan of(long seed, boolean disks) {
        Random random = new Random(seed);
        List<SetUp> setUps = List.of(SetUp.values());
        SetUp setUp = setUps.get((int) (seed % setUps.size()));
        List<Mishap> possible = new ArrayList<>();
        for (Mishap mishap : Mishap.values()) {
            boolean disk =
                    mishap.where() == Mishap.Where.BENCH_DISK
                            || mishap.where() == Mishap.Where.LOGGER_DISK;
            if (mishap.fits(setUp) && (disks || !disk)) {
                possible.add(mishap);
            }
        }
        List<Step> steps = new ArrayList<>();
        for (int i = 0; i < STEPS; i++) {
            // The first goes round, so that each mishap has its turn in few scenarios.
            int next =
                    i == 0
                            ? (int) (seed / SetUp.values().length * 7 % possible.size())
                            : random.nextInt(possible.size());
            Mishap mishap = possible.get(next);
            steps.add(
                    new Step(
                            mishap,
                            random.nextInt(LONGEST_CALM_MS),
                            random.nextInt(mishap.longest_ms())));
        }
        return new FaultPlan(seed, setUp, steps);
    }

    boolean needs(Mishap.Where where) {
        return steps.stream().anyMatch(step -> step.mishap().where() == where);
    }

    @Override
    public String toString() {
        return "seed %d, %s: %s"
                .formatted(
                        seed,
                        setUp,
                        steps.stream()
                                .map(
                                        step ->
                                                "%s after %d ms for %d ms"
                                                        .formatted(
                                                                step.mishap(),
                                                                step.calm_ms(),
                                                                step.lasts_ms()))
                                .collect(Collectors.joining(", ")));
    }
}
