package org.evenwash.logger.wash;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.agitation.AgitationTime;
import org.evenwash.analysis.agitation.TimedWash;
import org.evenwash.analysis.infestation.BeesInSample;
import org.evenwash.analysis.infestation.Infestation;
import org.evenwash.analysis.protocol.Check;
import org.evenwash.analysis.speed.SpeedBias;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Benches;
import org.evenwash.logger.store.Calibration;
import org.evenwash.logger.store.CalibrationKind;
import org.evenwash.logger.store.Json;
import org.evenwash.logger.store.StudyFilter;
import org.evenwash.logger.store.StudyWashes;
import org.evenwash.logger.store.Wash;
import org.evenwash.record.Pass;
import org.evenwash.record.RecipeSheet;
import org.evenwash.record.ShippedRecipes;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class CalibratingTest {
    private static final String EXAMPLE = "/org/evenwash/logger/cli/example/agitation-time.csv";

    @TempDir Path folder;
    private Book book;
    private Workplace work;
    private Runs runs;

    @BeforeEach
    void open() {
        book = new Book(folder);
        work = book.work;
        runs = new Runs(book);
    }

    @AfterEach
    void close() {
        book.close();
    }

    private static List<TimedWash> example() {
        try (BufferedReader lines =
                new BufferedReader(
                        new InputStreamReader(
                                CalibratingTest.class.getResourceAsStream(EXAMPLE),
                                StandardCharsets.UTF_8))) {
            return lines.lines()
                    .skip(1)
                    .map(line -> line.split(","))
                    .map(
                            cells ->
                                    new TimedWash(
                                            Double.parseDouble(cells[0]),
                                            Integer.parseInt(cells[1]),
                                            Integer.parseInt(cells[2])))
                    .toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private void enterExample() {
        for (TimedWash wash : example()) {
            runs.byHand(
                    wash.agitationS(),
                    wash.firstWashMites(),
                    wash.secondWashMites(),
                    book.first.id());
        }
    }

    private AgitationStudy study() {
        return work.calibrating().studies().study(StudyFilter.ALL, SecondWash.EXHAUSTIVE);
    }

    /** The command line's example; what its estimator gives is compared with R in its own tests. */
    @Test
    void storedSecondWashes_giveTheTimeThatTheSameWashesGiveOnTheCommandLine() {
        enterExample();

        AgitationStudy study = study();

        assertThat(study.used()).hasSize(24);
        Result.Estimate found = (Result.Estimate) study.answers().get(1).time();
        Result.Estimate direct =
                (Result.Estimate) AgitationTime.exhaustive(example(), 0.95).result();
        assertThat(found.value()).isCloseTo(direct.value(), within(1e-6));
        assertThat(found.lower()).isCloseTo(direct.lower(), within(1e-6));
        assertThat(found.upper()).isCloseTo(direct.upper(), within(1e-6));
    }

    @Test
    void washLeftOutByAPerson_staysVisibleWithItsReason_andComesBack() {
        enterExample();
        Wash spilt = runs.byHand(60, 2, 30, book.first.id());
        By by = By.operator(book.second.id());

        work.calibrating().studies().leaveOut(spilt.id(), "half of it was spilt", by);

        assertThat(study().used()).hasSize(24);
        assertThat(study().leftOut())
                .singleElement()
                .satisfies(one -> assertThat(one.why()).isEqualTo("half of it was spilt"));
        assertThat(work.sheets().of(spilt.id()).corrections())
                .anyMatch(change -> change.why().equals("half of it was spilt"));
        work.calibrating().studies().takeIn(spilt.id(), "it was another jar", by);
        assertThat(study().used()).hasSize(25);
        assertThatThrownBy(() -> work.calibrating().studies().leaveOut(spilt.id(), " ", by))
                .hasMessageContaining("say why");
    }

    @Test
    void washesWithoutMitesOrTime_areLeftOutAndSaySo() {
        runs.byHand(60, 0, 0, null);
        Wash untimed = work.washes().plan(NewWash.today(book.colony.id(), null), By.nobody());
        work.counting().enter(untimed.id(), Pass.FIRST, 9, null, By.nobody());
        work.counting().enter(untimed.id(), Pass.SECOND, 1, null, By.nobody());

        AgitationStudy study = study();

        assertThat(study.used()).isEmpty();
        assertThat(study.leftOut().stream().map(AgitationStudy.LeftOut::why).toList())
                .containsExactlyInAnyOrder(
                        "no mite in either wash, which says nothing about recovery",
                        "no agitation is recorded for its first wash");
        assertThat(study.answers().get(1).time()).isInstanceOf(Result.NotEnoughData.class);
    }

    @Test
    void simulatedWash_countsOnlyInADemonstration(@TempDir Path other) {
        runs.atBench(Book.RECIPE, true, 18, 2, book.first.id());
        assertThat(study().used()).isEmpty();

        try (Book demonstration = new Book(other)) {
            demonstration.database.becomeDemonstration();
            new Runs(demonstration).atBench(Book.RECIPE, true, 18, 2, demonstration.first.id());
            assertThat(
                            demonstration
                                    .work
                                    .calibrating()
                                    .studies()
                                    .study(StudyFilter.ALL, SecondWash.EXHAUSTIVE)
                                    .used())
                    .hasSize(1);
        }
    }

    /** A bench's 119.98 s and 120.04 s are one time: else there were no replicates to judge a fit by. */
    @Test
    void timesOfABench_areTakenToTheSecond() {
        for (int i = 0; i < 5; i++) {
            runs.atBench(Book.RECIPE, false, 18, 2, book.first.id());
        }

        assertThat(study().byTime()).containsExactly(new AgitationStudy.AtTime(120, 5, 90, 10));
    }

    @Test
    void filterByBench_isAskedBeforeTheListIsCut() {
        StudyFilter bench =
                new StudyFilter(null, null, Runs.BENCH, null, null, null, null, null, null);
        Wash atBench = runs.atBench(Book.RECIPE, false, 18, 2, book.first.id());
        Wash later = runs.byHand(60, 9, 1, book.first.id());

        StudyWashes.Latest ofBench = latest(bench, 1);
        assertThat(ofBench.washes()).extracting("washId").containsExactly(atBench.id());
        assertThat(ofBench.cut()).isFalse();

        assertThat(latest(StudyFilter.ALL, 2).cut()).isFalse();
        StudyWashes.Latest one = latest(StudyFilter.ALL, 1);
        assertThat(one.washes()).hasSize(1);
        assertThat(one.cut()).isTrue();
        assertThat(latest(StudyFilter.ALL, 2).washes())
                .extracting("washId")
                .containsExactlyInAnyOrder(atBench.id(), later.id());
    }

    @Test
    void secondWashWhoseFirstIsNotCounted_takesNoPlaceAmongTheLatest() {
        for (int i = 0; i < 3; i++) {
            Wash half = work.washes().plan(NewWash.today(book.colony.id(), null), By.nobody());
            work.counting().enter(half.id(), Pass.SECOND, 1, null, By.nobody());
        }
        Wash whole = runs.byHand(60, 9, 1, book.first.id());

        StudyWashes.Latest latest = latest(StudyFilter.ALL, 1);

        assertThat(latest.washes()).extracting("washId").containsExactly(whole.id());
        assertThat(latest.cut()).isFalse();
    }

    private StudyWashes.Latest latest(StudyFilter filter, int most) {
        return book.database.read(handle -> StudyWashes.latest(handle, filter, false, most));
    }

    private RecipeWish wish(RecipeWish.Aim aim, int bouts) {
        RecipeSheet base = ShippedRecipes.TWO_MINUTES_IN_THREE_BOUTS;
        return new RecipeWish(0.95, aim, base.recipeId(), base.version(), bouts, 30, null);
    }

    private UUID make(RecipeWish wish, By by) {
        return work.calibrating().recipes().make(StudyFilter.ALL, SecondWash.EXHAUSTIVE, wish, by);
    }

    @Test
    void agitationTime_becomesARecipeVersionOnOffer_withTheCalibrationItRestsOn() {
        work.recipes().addShipped();
        enterExample();
        By by = By.operator(book.first.id());

        UUID id = make(wish(RecipeWish.Aim.UPPER_LIMIT, 3), by);

        double upper = ((Result.Estimate) study().answers().get(1).time()).upper();
        var recipe =
                work.recipes().current().stream()
                        .filter(one -> id.equals(one.calibrationId()))
                        .findFirst()
                        .orElseThrow();
        assertThat(recipe.sheet().recipeId()).isEqualTo(CalibratedRecipes.OWN_LINE);
        assertThat(recipe.sheet().bouts()).hasSize(3);
        assertThat(recipe.sheet().totalAgitation_s()).isBetween(upper, upper + 1.5);
        assertThat(recipe.sheet().bouts().get(2).rest_s()).isZero();
        assertThat(work.recipes().current()).hasSize(1 + ShippedRecipes.ALL.size());
        Calibration calibration = work.calibrating().shelf().calibration(id);
        assertThat(calibration.kind()).isEqualTo(CalibrationKind.AGITATION_TIME);
        assertThat(calibration.methodVersion()).isEqualTo("agitation-time 2");
        JsonNode inputs = Json.read(calibration.inputsJson(), JsonNode.class);
        assertThat(inputs.path("washes").size()).isEqualTo(24);

        make(wish(RecipeWish.Aim.ESTIMATE, 2), by);
        assertThat(
                        work.recipes().current().stream()
                                .filter(one -> one.sheet().recipeId().equals("calibrated"))
                                .map(one -> one.sheet().version()))
                .containsExactly(2);
    }

    @Test
    void recipeFromTooFewWashes_orWithBoutsShorterThanTheirRamps_isRefused() {
        work.recipes().addShipped();
        runs.byHand(60, 20, 3, null);
        assertThatThrownBy(() -> make(wish(RecipeWish.Aim.ESTIMATE, 3), By.nobody()))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("is not known yet")
                .hasMessageContaining("at least 12 washes");
        enterExample();
        RecipeSheet slow =
                RecipeSheet.of(
                        "slow",
                        "Slow",
                        1,
                        List.of(new RecipeSheet.Bout(60, 100, 20, 0, false)),
                        1,
                        ShippedRecipes.USUAL,
                        60);
        work.recipes().add(slow, null, By.nobody());
        assertThatThrownBy(
                        () ->
                                make(
                                        new RecipeWish(
                                                0.95,
                                                RecipeWish.Aim.ESTIMATE,
                                                "slow",
                                                1,
                                                5,
                                                0,
                                                null),
                                        By.nobody()))
                .hasMessageContaining("shorter than their two ramps");
        assertThatThrownBy(() -> make(wish(RecipeWish.Aim.ESTIMATE, 21), By.nobody()))
                .hasMessageContaining("choose 1 to 20");
    }

    /** In all of 168 mites none was left: below 30 s nobody has looked, whatever the curve says. */
    @Test
    void recipeFromSecondWashesWithoutAMite_isNeitherOfFewNorShorterThanWhatWasTried() {
        work.recipes().addShipped();
        runs.byHand(30, 3, 0, null);
        assertThat(study().answers().get(1).time()).isInstanceOf(Result.Bound.class);
        assertThatThrownBy(() -> make(wish(RecipeWish.Aim.UPPER_LIMIT, 1), By.nobody()))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("at least 12 washes with mites (now 1)");
        for (int i = 0; i < 11; i++) {
            runs.byHand(30 + 15 * (i % 3), 15, 0, null);
        }
        var bound = (Result.Bound) study().answers().get(1).time();
        assertThat(bound.limit()).isLessThan(30);

        UUID id = make(wish(RecipeWish.Aim.UPPER_LIMIT, 1), By.nobody());

        assertThat(
                        work.recipes().current().stream()
                                .filter(one -> id.equals(one.calibrationId()))
                                .map(one -> one.sheet().totalAgitation_s()))
                .containsExactly(30.0);
    }

    @Test
    void recoveryInUse_correctsWashesOfItsRecipe_andAnswersTheProtocol() {
        work.recipes().add(Book.RECIPE, null, By.nobody());
        for (int[] pair : new int[][] {{18, 2}, {27, 3}, {9, 2}, {16, 1}, {20, 4}}) {
            runs.atBench(Book.RECIPE, false, pair[0], pair[1], book.first.id());
        }
        Wash later = runs.atBench(Book.RECIPE, false, 6, 0, book.first.id());
        later =
                work.washes()
                        .enterBees(
                                later.id(),
                                later.version(),
                                BeeMeasure.COUNTED,
                                300,
                                null,
                                null,
                                null,
                                By.nobody());
        assertThat(work.sheets().of(later.id()).calibrations().corrected()).isNull();

        UUID id =
                work.calibrating()
                        .recovery()
                        .use(
                                StudyFilter.ALL,
                                Book.RECIPE.recipeId(),
                                Book.RECIPE.version(),
                                By.operator(book.first.id()));

        WashSheet sheet = work.sheets().of(later.id());
        assertThat(sheet.calibrations().recovery().id()).isEqualTo(id);
        Result.Estimate corrected = (Result.Estimate) sheet.calibrations().corrected();
        assertThat(corrected.value())
                .isGreaterThan(((Result.Estimate) sheet.infestation()).value());
        assertThat(corrected)
                .isEqualTo(
                        Infestations.corrected(
                                6,
                                BeesInSample.counted(300),
                                new double[] {18, 27, 9, 16, 20, 6},
                                new double[] {2, 3, 2, 1, 4, 0}));
        assertThat(sheet.checks())
                .anyMatch(
                        check ->
                                check.point().key().equals("recovery_determined")
                                        && check.outcome() == Check.Outcome.PASS);
        work.calibrating().shelf().end(id, By.nobody());
        assertThat(work.sheets().of(later.id()).calibrations().recovery()).isNull();
        assertThat(sheet.infestation()).isEqualTo(Infestation.counted(6, 300));
    }

    @Test
    void recoveryOfTooFewWashes_isNotUsed() {
        runs.atBench(Book.RECIPE, false, 18, 2, null);
        assertThatThrownBy(
                        () ->
                                work.calibrating()
                                        .recovery()
                                        .use(
                                                StudyFilter.ALL,
                                                Book.RECIPE.recipeId(),
                                                1,
                                                By.nobody()))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("at least 4 washes with 30 mites");
    }

    private static List<BeeMeasures.CountedJar> jars(int... bees) {
        List<BeeMeasures.CountedJar> jars = new ArrayList<>();
        for (int count : bees) {
            jars.add(new BeeMeasures.CountedJar(null, count));
        }
        return jars;
    }

    @Test
    void newCalibrationOfTheSameLine_takesThePlaceOfTheFormer() {
        BeeMeasures measures = work.calibrating().measures();
        UUID first =
                measures.add(
                        "Blue jar", CalibrationKind.FILL_LINE, jars(290, 300, 310), By.nobody());
        UUID second =
                measures.add(
                        "blue jar", CalibrationKind.FILL_LINE, jars(270, 280, 290), By.nobody());
        UUID other =
                measures.add(
                        "Tall jar", CalibrationKind.FILL_LINE, jars(190, 200, 210), By.nobody());

        assertThat(work.beeEstimates().inUse().stream().map(Calibration::id))
                .containsExactlyInAnyOrder(second, other);
        assertThat(work.beeEstimates().of(BeeMeasure.FILL_LINE, null, null))
                .as("which line was meant is not guessed")
                .isEmpty();
        assertThat(
                        work.beeEstimates()
                                .of(BeeMeasure.FILL_LINE, null, second)
                                .orElseThrow()
                                .bees()
                                .number())
                .isEqualTo(280);
        work.calibrating().shelf().use(first, By.nobody());
        assertThat(work.beeEstimates().inUse().stream().map(Calibration::id))
                .containsExactlyInAnyOrder(first, other);
    }

    @Test
    void jarsThatCannotBe_areRefusedByTheirNumber() {
        BeeMeasures measures = work.calibrating().measures();
        assertThatThrownBy(
                        () -> measures.add("x", CalibrationKind.FILL_LINE, jars(300), By.nobody()))
                .hasMessageContaining("count at least three");
        assertThatThrownBy(
                        () ->
                                measures.add(
                                        "x",
                                        CalibrationKind.FILL_LINE,
                                        jars(300, 310, 0),
                                        By.nobody()))
                .hasMessageContaining("jar 3 has 0 bees");
        assertThatThrownBy(
                        () ->
                                measures.add(
                                        "x",
                                        CalibrationKind.MASS,
                                        jars(300, 310, 320),
                                        By.nobody()))
                .hasMessageContaining("jar 1 mass is missing");
        assertThatThrownBy(
                        () ->
                                measures.add(
                                        "x",
                                        CalibrationKind.RECOVERY,
                                        jars(300, 310, 320),
                                        By.nobody()))
                .hasMessageContaining("choose fill line or mass");
    }

    @Test
    void tachometerReadings_tellWhetherTheDisplayIsWithinWhatRecipesAllow() {
        book.database.change(
                handle -> Benches.seen(handle, Runs.BENCH, false, java.time.Instant.now()));
        work.recipes().addShipped();
        SpeedChecks speeds = work.calibrating().speeds();
        assertThat(speeds.of(Runs.BENCH)).isEmpty();

        speeds.add(
                Runs.BENCH,
                List.of(
                        new SpeedBias.Reading(181, 178.4),
                        new SpeedBias.Reading(182, 179.9),
                        new SpeedBias.Reading(121, 118.6)),
                By.nobody());
        assertThat(speeds.of(Runs.BENCH).orElseThrow().standing())
                .isEqualTo(SpeedChecks.Standing.WITHIN);
        speeds.add(
                Runs.BENCH,
                List.of(
                        new SpeedBias.Reading(180, 150),
                        new SpeedBias.Reading(181, 150),
                        new SpeedBias.Reading(180, 151)),
                By.nobody());
        SpeedChecks.Check off = speeds.of(Runs.BENCH).orElseThrow();
        assertThat(off.standing()).isEqualTo(SpeedChecks.Standing.OFF);
        assertThat(off.allowed_percent()).isEqualTo(10);
        assertThat(off.old()).isFalse();
        assertThat(work.calibrating().shelf().inUse(CalibrationKind.BENCH_SPEED)).hasSize(1);
        assertThatThrownBy(() -> speeds.add(Runs.BENCH, List.of(), By.nobody()))
                .hasMessageContaining("at least three times");
        assertThatThrownBy(
                        () ->
                                speeds.add(
                                        "elsewhere",
                                        List.of(
                                                new SpeedBias.Reading(1, 1),
                                                new SpeedBias.Reading(1, 1),
                                                new SpeedBias.Reading(1, 1)),
                                        By.nobody()))
                .hasMessageContaining("is not here");
    }

    /** Half within and half beyond is neither: more readings would settle it. */
    @Test
    void intervalAcrossTheLimit_isUndecided() {
        assertThat(SpeedChecks.standing(new Result.Estimate(9, 7, 11), 10))
                .isEqualTo(SpeedChecks.Standing.UNDECIDED);
        assertThat(SpeedChecks.standing(new Result.NotEnoughData("more"), 10))
                .isEqualTo(SpeedChecks.Standing.UNKNOWN);
    }

    @Test
    void sameRequestTwice_makesOneCalibration() {
        By once = By.nobody().once("key-1");
        UUID first =
                work.calibrating()
                        .measures()
                        .add("Jar", CalibrationKind.FILL_LINE, jars(290, 300, 310), once);
        UUID again =
                work.calibrating()
                        .measures()
                        .add("Jar", CalibrationKind.FILL_LINE, jars(290, 300, 310), once);
        assertThat(again).isEqualTo(first);
        assertThat(work.calibrating().shelf().all()).hasSize(1);
    }
}
