package org.evenwash.logger.wash;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import org.evenwash.analysis.Result;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.Hemisphere;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ApiaryBookTest {
    private static final LocalDate TODAY = Years.TODAY;

    @TempDir Path folder;
    private Years years;
    private final List<Colony> colonies = new ArrayList<>();

    @BeforeEach
    void open() {
        years = new Years(folder, false);
        for (int i = 1; i <= 20; i++) {
            colonies.add(years.colony("F" + i));
        }
    }

    @AfterEach
    void close() {
        years.close();
    }

    private ApiaryOverview overview() {
        return years.work.apiaries().overview(years.apiary.id(), 21);
    }

    /**
     * 9 of 20 washed and none over: at most 4 of 20 (Cannon and Roe 1982; exact hypergeometric: 0 of 9
     * with 4 of 20 over has probability .068, with 5 .030).
     */
    @Test
    void noneOfNineOver_leavesAtMostFourOfTwenty() {
        years.chooseThreshold();
        for (int i = 0; i < 9; i++) {
            years.wash(colonies.get(i), TODAY.minusDays(i), 2);
        }
        ApiaryOverview.Over over = overview().over().orElseThrow();
        assertThat(over).isEqualTo(new ApiaryOverview.Over(9, 0, 20, 4, 0));
        assertThat(over.unwashed()).isEqualTo(11);
        assertThat(over.unwashedAtMost()).isEqualTo(4);
    }

    @Test
    void readingAtTheThreshold_countsAsOver() {
        years.chooseThreshold();
        years.wash(colonies.get(0), TODAY, 9);
        years.wash(colonies.get(1), TODAY, 8);
        assertThat(overview().over().orElseThrow().over()).isEqualTo(1);
        assertThat(overview().washed().get(0).colony().name()).isEqualTo("F1");
    }

    @Test
    void mean_isOfAllColonies_withAnInterval_fromThreeOn() {
        years.wash(colonies.get(0), TODAY, 3);
        assertThat(overview().mean().result()).isInstanceOf(Result.NotEnoughData.class);
        years.wash(colonies.get(1), TODAY, 6);
        years.wash(colonies.get(2), TODAY, 9);
        Result.Estimate mean = (Result.Estimate) overview().mean().result();
        assertThat(mean.value()).isCloseTo(2, within(1e-9));
        assertThat(mean.lower()).isPositive().isLessThan(2);
        assertThat(mean.upper()).isFinite().isGreaterThan(2);
        assertThat(overview().over()).as("no threshold is chosen").isEmpty();
    }

    @Test
    void colonyTreatedSinceItsWash_isInNoFigure() {
        years.chooseThreshold();
        years.wash(colonies.get(0), TODAY.minusDays(10), 30);
        years.treat(colonies.get(0), "formic acid", TODAY.minusDays(8), null);
        years.wash(colonies.get(1), TODAY.minusDays(1), 1);
        ApiaryOverview overview = overview();
        assertThat(overview.washed()).hasSize(1);
        assertThat(overview.in(ApiaryOverview.Standing.TREATED_SINCE))
                .singleElement()
                .satisfies(row -> assertThat(row.colony().name()).isEqualTo("F1"));
        assertThat(overview.over().orElseThrow().washed()).isEqualTo(1);
        assertThat(overview.over().orElseThrow().colonies()).isEqualTo(19);
    }

    private void washAll(LocalDate day, int... mites) {
        for (int i = 0; i < mites.length; i++) {
            years.wash(colonies.get(i), day, mites[i]);
        }
    }

    private static final int[] TWELVE_LOW = {0, 0, 0, 1, 1, 1, 2, 2, 2, 3, 3, 4};

    /** All 20 washed, the eight over treated: 12 of 12 are known, and of the eight nothing is. */
    @Test
    void treatedForTheirResults_areNotAmongThoseNotWashed() {
        years.chooseThreshold();
        washAll(
                TODAY.minusDays(3),
                0,
                0,
                0,
                1,
                1,
                1,
                2,
                2,
                2,
                3,
                3,
                4,
                11,
                13,
                15,
                17,
                19,
                21,
                23,
                25);
        ApiaryOverview before = overview();
        assertThat(before.over()).contains(new ApiaryOverview.Over(20, 8, 20, 8, 8));
        for (int i = 12; i < 20; i++) {
            years.treat(colonies.get(i), "formic acid", TODAY.minusDays(2), null);
        }
        ApiaryOverview after = overview();
        assertThat(after.over()).contains(new ApiaryOverview.Over(12, 0, 12, 0, 0));
        assertThat(after.over().orElseThrow().unwashed()).isZero();
        assertThat(after.in(ApiaryOverview.Standing.TREATED_SINCE)).hasSize(8);
        // The mean of the twelve: 19 mites in 3,600 bees.
        assertThat(after.mean().of()).isEqualTo(ApiaryOverview.MeanOf.NOT_TREATED);
        assertThat(after.mean().colonies()).isEqualTo(12);
        assertThat(((Result.Estimate) after.mean().result()).value())
                .isCloseTo(0.52778, within(1e-5));
    }

    /**
     * 10 of 20 washed, 4 of them over and treated. What the draw says of the ten others stays: 4 of 10
     * leave at most 12 of 20 and at least 5 (R 4.2.2: phyper(4, D, 20 - D, 10) is .029 at 13 and .085
     * at 12; phyper(3, D, 20 - D, 10, lower = FALSE) is .043 at 4 and .152 at 5). Judged by the six
     * left, 0 of 6 with 16, at most 5 of the ten would be over: with 12 of 20 over, such a bound held in
     * 67 % of 20,000 draws, this one in 99 %.
     */
    @Test
    void thoseNotWashed_areJudgedByTheWashesAsDrawn() {
        years.chooseThreshold();
        washAll(TODAY.minusDays(3), 0, 0, 1, 2, 2, 3, 11, 13, 15, 17);
        for (int i = 6; i < 10; i++) {
            years.treat(colonies.get(i), "formic acid", TODAY.minusDays(2), null);
        }
        ApiaryOverview overview = overview();
        ApiaryOverview.Over over = overview.over().orElseThrow();
        assertThat(over).isEqualTo(new ApiaryOverview.Over(6, 0, 16, 8, 1));
        assertThat(over.unwashed()).isEqualTo(10);
        assertThat(over.unwashedAtMost()).isEqualTo(8);
        // As drawn: 64 mites in 3,000 bees.
        assertThat(overview.mean().of()).isEqualTo(ApiaryOverview.MeanOf.AS_DRAWN);
        assertThat(overview.mean().colonies()).isEqualTo(20);
        assertThat(((Result.Estimate) overview.mean().result()).value())
                .isCloseTo(2.1333, within(1e-4));
        // Washed again after the treatment they are known, and the draw still says the same.
        for (int i = 6; i < 10; i++) {
            years.wash(colonies.get(i), TODAY, 1);
        }
        assertThat(overview().over()).contains(new ApiaryOverview.Over(10, 0, 20, 8, 1));
    }

    /** Treated by an earlier round: not washed in this one, and not left out by lot. */
    @Test
    void treatedBeforeTheRoundsWashes_andNotWashedSince_isInNoFigure() {
        years.chooseThreshold();
        years.wash(colonies.get(19), TODAY.minusDays(30), 25);
        years.treat(colonies.get(19), "formic acid", TODAY.minusDays(18), null);
        washAll(TODAY, TWELVE_LOW);
        assertThat(overview().over().orElseThrow().colonies()).isEqualTo(19);
        assertThat(overview().in(ApiaryOverview.Standing.TREATED_SINCE)).hasSize(1);
    }

    /** The whole yard treated, then some drawn and washed: they speak of the treated ones too. */
    @Test
    void washedAfterAllWereTreated_speaksOfAll() {
        years.chooseThreshold();
        colonies.forEach(one -> years.treat(one, "formic acid", TODAY.minusDays(15), null));
        washAll(TODAY, TWELVE_LOW);
        assertThat(overview().over()).contains(new ApiaryOverview.Over(12, 0, 20, 2, 0));
        assertThat(overview().mean().result()).isInstanceOf(Result.Estimate.class);
    }

    @Test
    void onlyTheLatestWashOfTheRoundCounts_andOlderOnesAreAnotherRound() {
        years.wash(colonies.get(0), TODAY.minusDays(5), 30);
        years.wash(colonies.get(0), TODAY.minusDays(2), 3);
        years.wash(colonies.get(1), TODAY.minusDays(40), 30);
        assertThat(overview().washed())
                .singleElement()
                .satisfies(row -> assertThat(row.wash().mites()).isEqualTo(3));
        assertThat(years.work.apiaries().overview(years.apiary.id(), 60).washed()).hasSize(2);
        assertThatThrownBy(() -> years.work.apiaries().overview(years.apiary.id(), 0))
                .isInstanceOf(Refused.class);
    }

    @Test
    void settings_areChanged_andTheEarlierOnesKept_butNotUnseen() {
        var settings =
                new ApiaryBook.Settings(
                        "Fern Top",
                        "Australia/Sydney",
                        Hemisphere.SOUTHERN,
                        3.2,
                        0.4,
                        "by the gate");
        Apiary changed = years.work.apiaries().change(years.apiary.id(), 1, settings, By.nobody());
        assertThat(changed.name()).isEqualTo("Fern Top");
        assertThat(overview().season()).isEqualTo(Season.DORMANT);
        assertThatThrownBy(
                        () ->
                                years.work
                                        .apiaries()
                                        .change(years.apiary.id(), 1, settings, By.nobody()))
                .isInstanceOf(EditedMeanwhile.class)
                .satisfies(
                        refused ->
                                assertThat(((EditedMeanwhile) refused).changes())
                                        .anyMatch(one -> "Fern Hill".equals(one.earlier())));
        var badZone = new ApiaryBook.Settings("x", "Nowhere", Hemisphere.NORTHERN, null, null, "");
        assertThatThrownBy(
                        () ->
                                years.work
                                        .apiaries()
                                        .change(years.apiary.id(), 2, badZone, By.nobody()))
                .hasMessageContaining("time zone");
    }
}
