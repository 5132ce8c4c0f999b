package org.evenwash.demo;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * A set-up and what goes wrong there, one mishap after the other, all derived from a seed.
 *
 * @param steps in order
 */
record FaultPlan(long seed, SetUp setUp, List<Step> steps) {
    private static final int STEPS = 3;
    private static final int LONGEST_CALM_MS = 1_500;
    private static final long DECKS = 17;

    /**
     * @param calm_ms work goes on as usual for that long before
     * @param lasts_ms and this long with the mishap
     */
    record Step(Mishap mishap, int calm_ms, int lasts_ms) {}

    /**
     * @param leftOut what cannot be prepared here
     */
    static FaultPlan of(long seed, Set<Mishap.Where> leftOut) {
        Random random = new Random(seed);
        List<Step> steps = new ArrayList<>();
        for (Mishap mishap : dealt(seed, leftOut)) {
            steps.add(
                    new Step(
                            mishap,
                            random.nextInt(LONGEST_CALM_MS),
                            random.nextInt(mishap.longest_ms())));
        }
        return new FaultPlan(seed, setUp(seed), steps);
    }

    private static SetUp setUp(long seed) {
        List<SetUp> setUps = List.of(SetUp.values());
        return setUps.get((int) (seed % setUps.size()));
    }

    /**
     * All seeds up to this one draw from the same shuffled decks, so that each mishap has its turn in few scenarios. What
     * does not fit a set-up stays for the next seed.
     */
    private static List<Mishap> dealt(long seed, Set<Mishap.Where> leftOut) {
        Random shuffling = new Random(DECKS);
        List<Mishap> deck = new ArrayList<>();
        List<Mishap> hand = new ArrayList<>();
        for (long at = 0; at <= seed; at++) {
            SetUp setUp = setUp(at);
            hand.clear();
            while (hand.size() < STEPS) {
                Optional<Mishap> next = deck.stream().filter(one -> one.fits(setUp)).findFirst();
                if (next.isEmpty()) {
                    deck.addAll(shuffled(shuffling, leftOut));
                    continue;
                }
                deck.remove(next.get());
                hand.add(next.get());
            }
        }
        return List.copyOf(hand);
    }

    private static List<Mishap> shuffled(Random random, Set<Mishap.Where> leftOut) {
        List<Mishap> all = new ArrayList<>(List.of(Mishap.values()));
        all.removeIf(mishap -> leftOut.contains(mishap.where()));
        Collections.shuffle(all, random);
        return all;
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
