package org.evenwash.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.EnumMap;
import java.util.EnumSet;
import java.util.Map;
import java.util.Set;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;

class FaultPlanTest {
    private static final Set<Mishap.Where> NOTHING = Set.of();

    @Test
    void twentyScenarios_holdEachMishap() {
        assertThat(dealt(20, NOTHING)).containsOnlyKeys(Mishap.values());
    }

    @Test
    void twentyScenariosWithoutDisks_holdEachOtherMishap() {
        Set<Mishap.Where> disks = Mishap.Where.DISKS;
        assertThat(dealt(20, disks).keySet())
                .containsExactlyInAnyOrderElementsOf(
                        EnumSet.allOf(Mishap.class).stream()
                                .filter(mishap -> !disks.contains(mishap.where()))
                                .toList());
    }

    /** 600 steps; from one deck to the next a mishap comes once, sooner or later in it. */
    @Test
    void twoHundredScenarios_holdEachMishapAboutAsOften() {
        int share = 600 / Mishap.values().length;
        assertThat(dealt(200, NOTHING).values())
                .allSatisfy(times -> assertThat(times).isBetween(share - 2, share + 2));
    }

    @Test
    void mishaps_fitTheirSetUp() {
        LongStream.range(0, 200)
                .mapToObj(seed -> FaultPlan.of(seed, NOTHING))
                .forEach(
                        plan ->
                                assertThat(plan.steps())
                                        .allMatch(step -> step.mishap().fits(plan.setUp())));
    }

    @Test
    void sameSeed_isTheSamePlan() {
        assertThat(FaultPlan.of(73, NOTHING)).isEqualTo(FaultPlan.of(73, NOTHING));
    }

    private static Map<Mishap, Integer> dealt(int scenarios, Set<Mishap.Where> leftOut) {
        Map<Mishap, Integer> times = new EnumMap<>(Mishap.class);
        for (long seed = 0; seed < scenarios; seed++) {
            for (FaultPlan.Step step : FaultPlan.of(seed, leftOut).steps()) {
                times.merge(step.mishap(), 1, Integer::sum);
            }
        }
        return times;
    }
}
