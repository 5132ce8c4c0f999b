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
        assertThat(overview().mean()).isInstanceOf(Result.NotEnoughData.class);
        years.wash(colonies.get(1), TODAY, 6);
        years.wash(colonies.get(2), TODAY, 9);
        Result.Estimate mean = (Result.Estimate) overview().mean();
        assertThat(mean.value()).isCloseTo(2, within(1e-9));
        assertThat(mean.lower()).isPositive().isLessThan(2);
        assertThat(mean.upper()).isFinite().isGreaterThan(2);
        assertThat(overview().over()).as("no threshold is chosen").isEmpty();
    }

    @Test
    void colonyTreatedSinceItsWash_countsAsNotWashed() {
        years.chooseThreshold();
        years.wash(colonies.get(0), TODAY.minusDays(10), 30);
        years.treat(colonies.get(0), "formic acid", TODAY.minusDays(8), null);
        years.wash(colonies.get(1), TODAY.minusDays(1), 1);
        ApiaryOverview overview = overview();
        assertThat(overview.washed()).hasSize(1);
        assertThat(overview.rows().get(1).standing())
                .isEqualTo(ApiaryOverview.Standing.TREATED_SINCE);
        assertThat(overview.over().orElseThrow().washed()).isEqualTo(1);
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
