package org.evenwash.controller.process;

import static java.time.Duration.ofMillis;
import static java.time.Duration.ofMinutes;
import static java.time.Duration.ofSeconds;
import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import org.evenwash.controller.process.Settings.Jars;
import org.evenwash.controller.process.Settings.Limits;
import org.evenwash.controller.process.Settings.Safety;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.FieldSource;
import org.junit.jupiter.params.provider.MethodSource;

class RecipeTest {
    private static final double MAX_RPM = 300;
    private static final Bout GOOD = bout(ofSeconds(10), 180, ofSeconds(1), ofSeconds(5));

    static final List<Recipe> SHIPPED = Recipes.ALL;

    private static Bout bout(Duration agitation, double speed, Duration ramp, Duration rest) {
        return new Bout(agitation, speed, ramp, rest, false);
    }

    private static Recipe recipe(List<Bout> bouts, int repeats) {
        return new Recipe("r", "R", 1, bouts, repeats, Tolerances.USUAL, ofMinutes(1));
    }

    @ParameterizedTest
    @FieldSource("SHIPPED")
    void shippedRecipe_runsOnTheDefaultBench(Recipe recipe) {
        assertThat(recipe.mistakes(Settings.DEFAULTS.limits().fastest_rpm())).isEmpty();
    }

    @Test
    void shippedTimes_areThoseTheyAreNamedFor() {
        // About two minutes in bouts with rests between: common practice, no source.
        assertThat(Recipes.TWO_MINUTES_IN_THREE_BOUTS.totalAgitation()).isEqualTo(ofMinutes(2));
        assertThat(Recipes.TWO_MINUTES_IN_THREE_BOUTS.boutCount()).isEqualTo(3);
        // COLOSS BEEBOOK (Dietemann et al. 2013), after Fries et al. 1991: shake 20 s.
        assertThat(Recipes.TWENTY_SECONDS.totalAgitation()).isEqualTo(ofSeconds(20));
        assertThat(Recipes.TWENTY_SECONDS.total()).isEqualTo(ofSeconds(20));
        assertThat(Recipes.SECOND_WASH.boutCount()).isEqualTo(4);
        assertThat(Recipes.SECOND_WASH.bout(3).reverse()).isTrue();
        assertThat(Recipes.SECOND_WASH.totalAgitation()).isEqualTo(ofMinutes(2));
        assertThat(Recipes.SECOND_WASH.total()).isEqualTo(ofMinutes(3));
    }

    @Test
    void everyMistake_isToldAtOnce() {
        Bout bad = bout(Duration.ZERO, Double.NaN, ofSeconds(11), ofMinutes(61));
        Tolerances none = new Tolerances(Duration.ZERO, Duration.ZERO, 0.6, 1.1);
        Recipe recipe = new Recipe("No!", " ", 0, List.of(GOOD, bad), 0, none, ofMinutes(61));
        assertThat(recipe.mistakes(MAX_RPM))
                .containsExactly(
                        "id \"No!\": use 1 to 48 of a-z, 0-9 and -",
                        "name: give one of 1 to 80 characters",
                        "version 0: count from 1",
                        "repeats 0: allowed are 1 to 100",
                        "bout 2: agitation: more than 0 s, at most 60 minutes",
                        "bout 2: speed NaN rpm: this bench allows 10 to 300 rpm",
                        "bout 2: ramp: 0 to 10 s",
                        "bout 2: rest: 0 to 60 minutes",
                        "tolerance of agitation: more than 0 s",
                        "tolerance of rest: more than 0 s",
                        "tolerance of speed: 0.01 to 0.5 of the speed",
                        "least time in band: 0 to 1",
                        "longest hold: 0 to 60 minutes");
    }

    @Test
    void missingParts_areMistakes_notExceptions() {
        Bout bad = new Bout(null, 100, null, null, false);
        Recipe recipe = new Recipe(null, null, 1, List.of(bad), 1, null, null);
        assertThat(recipe.mistakes(MAX_RPM))
                .containsExactly(
                        "id \"null\": use 1 to 48 of a-z, 0-9 and -",
                        "name: give one of 1 to 80 characters",
                        "bout 1: agitation: more than 0 s, at most 60 minutes",
                        "bout 1: ramp: 0 to 10 s",
                        "bout 1: rest: 0 to 60 minutes",
                        "tolerances: missing",
                        "longest hold: 0 to 60 minutes");
        Tolerances empty = new Tolerances(null, null, Double.NaN, Double.NaN);
        Recipe second = new Recipe("r", "R", 1, List.of(GOOD), 1, empty, ofMinutes(1));
        assertThat(second.mistakes(MAX_RPM)).hasSize(4);
    }

    private static Stream<Arguments> limits() {
        Duration s = ofSeconds(1);
        return Stream.of(
                Arguments.of("agitation of 1 ms", bout(ofMillis(1), 10, Duration.ZERO, s), true),
                Arguments.of("agitation 60 min", bout(ofMinutes(60), 10, s, s), true),
                Arguments.of("longer", bout(ofMinutes(60).plusMillis(1), 10, s, s), false),
                Arguments.of("negative", bout(ofMillis(-1), 10, Duration.ZERO, s), false),
                Arguments.of("slowest", bout(ofSeconds(9), 10, s, s), true),
                Arguments.of("slower", bout(ofSeconds(9), 9.9, s, s), false),
                Arguments.of("fastest", bout(ofSeconds(9), 300, s, s), true),
                Arguments.of("faster", bout(ofSeconds(9), 300.1, s, s), false),
                Arguments.of("longest ramp", bout(ofSeconds(20), 99, ofSeconds(10), s), true),
                Arguments.of("longer ramp", bout(ofSeconds(30), 99, ofMillis(10_001), s), false),
                Arguments.of("negative ramp", bout(ofSeconds(9), 99, ofMillis(-1), s), false),
                Arguments.of("ramps that meet", bout(ofSeconds(2), 99, s, s), true),
                Arguments.of("ramps that cross", bout(ofMillis(1999), 99, s, s), false),
                Arguments.of("no rest", bout(ofSeconds(9), 99, s, Duration.ZERO), true),
                Arguments.of("negative rest", bout(ofSeconds(9), 99, s, ofMillis(-1)), false),
                Arguments.of("longest rest", bout(ofSeconds(9), 99, s, ofMinutes(60)), true));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("limits")
    void limitsOfABout(String name, Bout bout, boolean allowed) {
        assertThat(recipe(List.of(bout), 1).mistakes(MAX_RPM).isEmpty())
                .as(name)
                .isEqualTo(allowed);
    }

    @Test
    void nothingRunsForEver() {
        assertThat(recipe(List.of(), 1).mistakes(MAX_RPM))
                .containsExactly("bouts: give at least one");
        Bout brief = bout(ofSeconds(1), 100, Duration.ZERO, Duration.ZERO);
        assertThat(recipe(Collections.nCopies(2, brief), 100).mistakes(MAX_RPM)).isEmpty();
        assertThat(recipe(Collections.nCopies(201, brief), 1).mistakes(MAX_RPM))
                .containsExactly("bouts: at most 200 with repeats counted");
        assertThat(recipe(Collections.nCopies(101, brief), 2).mistakes(MAX_RPM))
                .containsExactly("bouts: at most 200 with repeats counted");
        assertThat(recipe(List.of(brief), 101).mistakes(MAX_RPM))
                .containsExactly("repeats 101: allowed are 1 to 100");
        Bout hour = bout(ofMinutes(60), 100, Duration.ZERO, Duration.ZERO);
        assertThat(recipe(List.of(hour, hour), 1).mistakes(MAX_RPM)).isEmpty();
        assertThat(recipe(List.of(hour, brief, hour), 1).mistakes(MAX_RPM))
                .containsExactly("total time 7201 s: at most 7200 s");
    }

    @Test
    void names_haveLimits() {
        Recipe longest =
                new Recipe(
                        "a".repeat(48),
                        "n".repeat(80),
                        1,
                        List.of(GOOD),
                        1,
                        new Tolerances(ofMillis(1), ofMillis(1), 0.01, 0),
                        Duration.ZERO);
        assertThat(longest.mistakes(MAX_RPM)).isEmpty();
        Recipe tooLong =
                new Recipe(
                        "a".repeat(49),
                        "n".repeat(81),
                        1,
                        List.of(GOOD),
                        1,
                        new Tolerances(ofMillis(1), ofMillis(1), 0.5, 1),
                        ofMillis(-1));
        assertThat(tooLong.mistakes(MAX_RPM)).hasSize(3);
    }

    @Test
    void profile_climbsHoldsAndFalls() {
        Bout bout = bout(ofSeconds(10), 200, ofSeconds(2), Duration.ZERO);
        assertThat(bout.profile_rpm(0)).isZero();
        assertThat(bout.profile_rpm(ofSeconds(1).toNanos())).isEqualTo(100);
        assertThat(bout.profile_rpm(ofSeconds(2).toNanos())).isEqualTo(200);
        assertThat(bout.profile_rpm(ofSeconds(8).toNanos())).isEqualTo(200);
        assertThat(bout.profile_rpm(ofMillis(9500).toNanos())).isEqualTo(50);
        assertThat(bout.profile_rpm(ofSeconds(11).toNanos())).isZero();
        assertThat(bout(ofSeconds(1), 200, Duration.ZERO, Duration.ZERO).profile_rpm(0))
                .isEqualTo(200);
    }

    @Test
    void settings_tellEveryMistakeAtOnce() {
        assertThat(Settings.DEFAULTS.mistakes()).isEmpty();
        Settings bad =
                Changed.settings(
                        s -> {
                            s.positions = 9;
                            s.fitted = java.util.Set.of(Sensor.LID);
                            s.fastest_rpm = Double.NaN;
                            s.overrunLimit = ofMillis(19);
                            s.longestCycle = ofSeconds(59);
                            s.longestStopRamp = ofMillis(5001);
                            s.cautiousFlashPoint_C = -1;
                            s.cautionsHold = Duration.ofHours(13);
                            s.proofTestEvery_cycles = 0;
                            s.proofTestEvery = Duration.ofDays(367);
                        });
        assertThat(bad.mistakes())
                .extracting(m -> m.split(" ")[0])
                .containsExactly(
                        "positions",
                        "fitted:",
                        "fitted:",
                        "fitted:",
                        "fitted:",
                        "overrunLimit_ms",
                        "cautiousFlashPoint_C",
                        "cautionsHold_s",
                        "proofTestEvery_days",
                        "proofTestEvery_cycles",
                        "fastest_rpm",
                        "longestCycle_s",
                        "longestStopRamp_s",
                        "fullDrive_rpm");
        assertThat(bad.mistakes().get(0)).isEqualTo("positions 9: allowed are 1 to 8");
        org.assertj.core.api.Assertions.assertThatThrownBy(
                        () -> Machine.boot(bad, ProofRecord.NEVER))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("positions 9");
    }

    @Test
    void load_isCheckedAgainstTheBench() {
        Job twice =
                new Job(
                        recipe(List.of(GOOD), 1),
                        List.of(Position.unassigned(2), Position.unassigned(2)),
                        Double.NaN);
        assertThat(Load.NONE.of(twice, Settings.DEFAULTS).mistakes())
                .containsExactly(
                        "position 2: this bench has 1",
                        "position 2: this bench has 1",
                        "position 2: given twice");
        Job nowhere = new Job(recipe(List.of(GOOD), 1), List.of(), Double.NaN);
        assertThat(Load.NONE.of(nowhere, Settings.DEFAULTS).mistakes())
                .containsExactly("no jar position is given");
        org.assertj.core.api.Assertions.assertThatThrownBy(() -> Position.unassigned(9))
                .hasMessage("position 9 is not 1 to 8");
        org.assertj.core.api.Assertions.assertThatThrownBy(() -> Position.unassigned(0))
                .hasMessage("position 0 is not 1 to 8");
    }

    @Test
    void everySetting_hasALimit() {
        Settings wrong =
                new Settings(
                        0,
                        Settings.REQUIRED,
                        Duration.ZERO,
                        new Safety(
                                ofMinutes(1),
                                61,
                                31,
                                false,
                                ofSeconds(359),
                                Duration.ofHours(23),
                                10_001),
                        new Limits(9, ofSeconds(14_401), ofMillis(-1), 29, 0.9, 0.09),
                        8,
                        new Jars(ofSeconds(11), ofSeconds(11)));
        assertThat(wrong.mistakes())
                .extracting(m -> m.split(" ")[0])
                .containsExactly(
                        "positions",
                        "period_ms",
                        "overrunLimit_ms",
                        "cautiousFlashPoint_C",
                        "flashPointMargin_K",
                        "cautionsHold_s",
                        "proofTestEvery_days",
                        "proofTestEvery_cycles",
                        "fastest_rpm",
                        "longestCycle_s",
                        "longestStopRamp_s",
                        "motorHottest_C",
                        "supplyLowest_V",
                        "currentMost_A",
                        "fullDrive_rpm",
                        "remindAfter_s",
                        "soakLimit_s");
        assertThat(wrong.mistakes())
                .contains(
                        "cautionsHold_s 359: allowed are 360 to 43200",
                        "currentMost_A 0.09: allowed are 0.1 to 100");
    }

    @Test
    void settingsAtTheirLimits_areAllowed() {
        Settings least =
                new Settings(
                        1,
                        Settings.REQUIRED,
                        ofMillis(1),
                        new Safety(ofMillis(2), 0, 0, false, ofMinutes(6), Duration.ofDays(1), 1),
                        new Limits(10, ofSeconds(60), Duration.ZERO, 30, 1, 0.1),
                        10,
                        new Jars(ofSeconds(12), ofSeconds(12)));
        assertThat(least.mistakes()).isEmpty();
        Settings most =
                new Settings(
                        8,
                        Set.of(Sensor.values()),
                        ofMillis(100),
                        new Safety(
                                ofMillis(5000),
                                60,
                                30,
                                true,
                                Duration.ofHours(12),
                                Duration.ofDays(366),
                                10_000),
                        new Limits(3000, Duration.ofHours(4), ofMillis(5000), 140, 60, 100),
                        6000,
                        new Jars(Duration.ofHours(1), Duration.ofHours(24)));
        assertThat(most.mistakes()).isEmpty();
    }

    @Test
    void benchWithoutARequiredSensor_saysWhich() {
        Set<Sensor> blind = EnumSet.copyOf(Settings.REQUIRED);
        blind.remove(Sensor.LID);
        assertThat(Settings.DEFAULTS.with(blind).mistakes())
                .containsExactly("fitted: lid contact is never optional");
    }
}
