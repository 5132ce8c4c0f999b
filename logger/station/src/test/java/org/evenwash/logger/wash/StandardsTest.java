package org.evenwash.logger.wash;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.analysis.protocol.Check;
import org.evenwash.analysis.protocol.Point;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.EditionChoice;
import org.evenwash.logger.store.Handling;
import org.evenwash.logger.store.Wash;
import org.evenwash.record.Pass;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class StandardsTest {
    @TempDir Path folder;
    private Book book;
    private Standards standards;

    @BeforeEach
    void open() {
        book = new Book(folder);
        standards = book.work.standards();
    }

    @AfterEach
    void close() {
        book.close();
    }

    private WashSheet washed(int mites, double bees) {
        Wash wash =
                book.work
                        .washes()
                        .plan(NewWash.today(book.colony.id(), book.first.id()), By.nobody());
        book.work.counting().enter(wash.id(), Pass.FIRST, mites, null, By.nobody());
        book.work
                .washes()
                .enterBees(wash.id(), 1, BeeMeasure.COUNTED, bees, null, null, null, By.nobody());
        book.work.washes().enterPass(wash.id(), Pass.FIRST, null, 20.0, By.nobody());
        return book.work.sheets().of(wash.id());
    }

    private static Optional<Check> check(WashSheet sheet, Point point) {
        return sheet.checks().stream().filter(check -> check.point() == point).findFirst();
    }

    /** COLOSS BEEBOOK (Dietemann et al. 2013): 300 bees, shaken for 20 s. */
    @Test
    void washAsTheProtocolAsks_passes_andWhatIsNotRecordedIsNotAssessed() {
        WashSheet sheet = washed(13, 303);

        assertThat(sheet.protocol().id()).isEqualTo("coloss-beebook-2013");
        assertThat(check(sheet, Point.AGITATION_S).orElseThrow().outcome())
                .isEqualTo(Check.Outcome.PASS);
        assertThat(check(sheet, Point.AGITATION_S).orElseThrow().evidence())
                .isEqualTo("20 s, timed by hand");
        assertThat(check(sheet, Point.QUEEN_CHECK).orElseThrow().outcome())
                .isEqualTo(Check.Outcome.NOT_ASSESSED);
        assertThat(sheet.checks()).allSatisfy(check -> assertThat(check.source()).isNotNull());
    }

    private WashSheet handled(Handling handling) {
        Wash wash = washed(3, 300).wash();
        SampleEntry sample = SampleEntry.of(wash).withHandling(handling);
        book.work.washes().enterSample(wash.id(), wash.version(), sample, null, By.nobody());
        return book.work.sheets().of(wash.id());
    }

    private static final Point[] BEEBOOK_HANDLING = {
        Point.BEES_COVERED, Point.BEE_SIEVE_MM, Point.MITE_SIEVE_MM, Point.JAR_WALLS_CHECKED
    };

    private static void assertOutcomes(WashSheet sheet, Check.Outcome outcome, Point... points) {
        for (Point point : points) {
            assertThat(check(sheet, point))
                    .get()
                    .extracting(Check::outcome)
                    .as(point.title())
                    .isEqualTo(outcome);
        }
    }

    /** COLOSS BEEBOOK (Dietemann et al. 2013): sieves of 3 to 4 mm and below 0.5 mm. */
    @Test
    void whatTheBeebookAsksOfTheHandling_isMetOrMissedAsEntered_andOpenUntilThen() {
        assertOutcomes(washed(3, 300), Check.Outcome.NOT_ASSESSED, BEEBOOK_HANDLING);
        assertOutcomes(
                handled(new Handling(null, null, true, 3.2, 0.4, true, null)),
                Check.Outcome.PASS,
                BEEBOOK_HANDLING);
        WashSheet missed = handled(new Handling(null, null, false, 2.5, 1.0, false, null));
        assertOutcomes(missed, Check.Outcome.FAIL, Point.BEES_COVERED);
        assertOutcomes(
                missed,
                Check.Outcome.CAUTION,
                Point.BEE_SIEVE_MM,
                Point.MITE_SIEVE_MM,
                Point.JAR_WALLS_CHECKED);
        assertThat(check(missed, Point.BEE_SIEVE_MM).orElseThrow().evidence()).contains("2.5 mm");
    }

    /** Agriculture Victoria: bees of three frames, 125 mL of liquid. */
    @Test
    void framesAndLiquid_areMetOrMissedAsEntered_andOpenUntilThen() {
        standards.chooseProtocol("agriculture-victoria", null, By.nobody());
        Point[] asked = {Point.FRAMES, Point.LIQUID_ML};

        assertOutcomes(washed(3, 300), Check.Outcome.NOT_ASSESSED, asked);
        assertOutcomes(
                handled(new Handling(3, 125.0, null, null, null, null, null)),
                Check.Outcome.PASS,
                asked);
        assertOutcomes(
                handled(new Handling(1, 80.0, null, null, null, null, null)),
                Check.Outcome.CAUTION,
                asked);
    }

    /**
     * Agriculture Victoria: three washes of the same bees. A bench records two; who made the third says
     * so, and nobody stands better for having washed once.
     */
    @Test
    void threeWashes_areMetOrMissedAsStated_andLeftOpenByTwoCounts() {
        standards.chooseProtocol("agriculture-victoria", null, By.nobody());
        WashSheet once = washed(18, 300);
        assertOutcomes(once, Check.Outcome.NOT_ASSESSED, Point.WASHES);
        book.work.counting().enter(once.wash().id(), Pass.SECOND, 2, null, By.nobody());
        WashSheet twice = book.work.sheets().of(once.wash().id());
        assertOutcomes(twice, Check.Outcome.NOT_ASSESSED, Point.WASHES);
        assertThat(check(twice, Point.WASHES).orElseThrow().evidence()).contains("at least 2");

        assertOutcomes(handled(times(3)), Check.Outcome.PASS, Point.WASHES);
        assertOutcomes(handled(times(1)), Check.Outcome.FAIL, Point.WASHES);
        WashSheet slip = handled(times(1));
        book.work.counting().enter(slip.wash().id(), Pass.SECOND, 2, null, By.nobody());
        assertThat(
                        check(book.work.sheets().of(slip.wash().id()), Point.WASHES)
                                .orElseThrow()
                                .evidence())
                .isEqualTo("2 washes, as stated");
        assertThatThrownBy(() -> handled(times(0))).isInstanceOf(Refused.class);
    }

    private static Handling times(int washed) {
        return new Handling(null, null, null, null, null, null, washed);
    }

    @Test
    void sievesOfTheApiary_goWithWashesPlannedFromThenOn_andChangeNoEarlierOne() {
        WashSheet before = washed(3, 300);
        sieves(1, 3.2, 0.4);
        WashSheet with = washed(3, 300);
        sieves(2, 5.0, 0.4);

        assertOutcomes(with, Check.Outcome.PASS, Point.BEE_SIEVE_MM, Point.MITE_SIEVE_MM);
        assertOutcomes(
                book.work.sheets().of(with.wash().id()), Check.Outcome.PASS, Point.BEE_SIEVE_MM);
        assertOutcomes(
                book.work.sheets().of(before.wash().id()),
                Check.Outcome.NOT_ASSESSED,
                Point.BEE_SIEVE_MM);
        assertOutcomes(washed(3, 300), Check.Outcome.CAUTION, Point.BEE_SIEVE_MM);
    }

    private void sieves(long version, double upper_mm, double lower_mm) {
        var settings =
                new ApiaryBook.Settings(
                        book.apiary.name(),
                        book.apiary.timeZone(),
                        book.apiary.hemisphere(),
                        upper_mm,
                        lower_mm,
                        "");
        book.work.apiaries().change(book.apiary.id(), version, settings, By.nobody());
    }

    @Test
    void lowerSieveThatIsNoFiner_isRefused() {
        assertThatThrownBy(() -> handled(new Handling(null, null, null, 0.4, 3.2, null, null)))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("no finer than that of the bee sieve");
        assertThatThrownBy(() -> sieves(1, 0.4, 0.4)).isInstanceOf(Refused.class);
    }

    @Test
    void withoutAChosenThreshold_thereIsNoVerdict() {
        assertThat(washed(30, 300).verdict()).isNull();
    }

    @Test
    void chosenThreshold_givesAVerdict_untilItIsDropped() {
        Threshold threshold =
                standards.thresholds().values().stream()
                        .filter(one -> one.per100Bees().isPresent())
                        .findFirst()
                        .orElseThrow();
        double limit = threshold.per100Bees().orElseThrow();
        int far = (int) Math.ceil(10 * limit * 3);

        standards.chooseThreshold(threshold.id(), null, By.operator(book.first.id()));
        assertThat(washed(far, 300).verdict().call()).isEqualTo(Verdict.Call.ABOVE);
        assertThat(washed(0, 3000).verdict().call()).isEqualTo(Verdict.Call.BELOW);
        standards.dropThreshold(null, By.nobody());

        assertThat(washed(far, 300).verdict()).isNull();
        assertThat(standards.history())
                .singleElement()
                .satisfies(
                        choice -> {
                            assertThat(choice.kind()).isEqualTo(EditionChoice.Kind.THRESHOLD);
                            assertThat(choice.edition()).isEqualTo(threshold.source().edition());
                            assertThat(choice.contentJson()).contains(threshold.id());
                            assertThat(choice.endedAt()).isNotNull();
                        });
    }

    @Test
    void apiarysOwnProtocol_winsOverTheStations() {
        standards.chooseProtocol("coloss-beebook-2013", null, By.nobody());
        standards.chooseProtocol("agriculture-victoria", book.apiary.id(), By.nobody());

        assertThat(standards.protocol(null).id()).isEqualTo("coloss-beebook-2013");
        assertThat(standards.protocol(book.apiary.id()).id()).isEqualTo("agriculture-victoria");
        assertThat(washed(3, 300).protocol().id()).isEqualTo("agriculture-victoria");
        assertThat(standards.history().get(0).contentJson()).contains("\"asked\"");
    }

    @Test
    void unknownProtocol_isRefusedWithThoseThatAreThere() {
        assertThatThrownBy(() -> standards.chooseProtocol("none", null, By.nobody()))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("choose one of [coloss-beebook-2013");
    }

    private static final String OWN =
            """
            thresholds:
              own:
                value: 2
                unit: per_100_bees
                region: our yards
                source: {citation: own rule, edition: "%s"}
            """;

    @Test
    void ownThresholdFile_isOffered_andTheChoiceHoldsWhenTheFileChanges(@TempDir Path rules)
            throws IOException {
        Path file = Files.writeString(rules.resolve("own.yaml"), OWN.formatted("2031"));
        Standards own = Workplace.over(book.database, book, Clock.systemUTC(), rules).standards();
        own.chooseThreshold("own", book.apiary.id(), By.nobody());
        assertThat(own.differsFromFile(own.threshold(book.apiary.id()).orElseThrow())).isFalse();

        Files.writeString(file, OWN.replace("value: 2", "value: 9").formatted("2032, new"));
        Threshold inUse = own.threshold(book.apiary.id()).orElseThrow();
        assertThat(inUse.value()).isEqualTo(2);
        assertThat(own.differsFromFile(inUse)).isTrue();
        assertThat(own.thresholdsInUse().apply(book.apiary.id())).contains(inUse);
        assertThat(own.thresholdsInUse().apply(UUID.randomUUID())).isEmpty();

        Files.delete(file);
        assertThat(own.threshold(book.apiary.id())).contains(inUse);
    }

    /** Whatever becomes of a file, the choice keeps every point with its limit and source. */
    @Test
    void chosenProtocol_isKeptWhole() {
        for (String id : standards.protocols().keySet()) {
            standards.chooseProtocol(id, null, By.nobody());
            String kept = standards.history().get(0).contentJson();
            assertThat(KeptRules.protocol(kept)).contains(standards.protocols().get(id));
        }
    }
}
