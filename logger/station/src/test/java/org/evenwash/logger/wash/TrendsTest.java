package org.evenwash.logger.wash;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.analysis.trend.DatedStretch;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.store.Page;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What a colony's washes say over time, and where the series is cut. */
class TrendsTest {
    private static final LocalDate TODAY = Years.TODAY;

    @TempDir Path folder;
    private Years years;
    private Colony colony;

    @BeforeEach
    void open() {
        years = new Years(folder, false);
        years.chooseThreshold();
        colony = years.colony("F1");
    }

    @AfterEach
    void close() {
        years.close();
    }

    private ColonyHistory history() {
        return years.work.trends().of(colony.id(), false, LocalDate::toString);
    }

    @Test
    void growingColony_hasAGrowth_aDoubling_andADayAhead_withLimits() {
        years.series(colony, TODAY.minusDays(2), 14, 1, 1, 2, 3, 4, 6);
        ColonyHistory history = history();

        DatedStretch stretch = history.latest().orElseThrow();
        assertThat(stretch.rises()).isTrue();
        DatedStretch.Meeting meeting = stretch.meeting().orElseThrow();
        assertThat(meeting.day()).isBetween(TODAY, TODAY.plusDays(40));
        assertThat(meeting.earliest()).isBefore(meeting.day());
        assertThat(stretch.line(true)).isNotEmpty();
        assertThat(stretch.line(true).get(stretch.line(true).size() - 1).day())
                .isAfter(stretch.to());
    }

    @Test
    void fourJarsOnTwoDays_projectNoDay_andTheNextWashIsTheUsualOne() {
        for (int mites : new int[] {2, 2}) {
            years.wash(colony, TODAY.minusDays(29), mites);
        }
        for (int mites : new int[] {7, 7}) {
            years.wash(colony, TODAY.minusDays(1), mites);
        }
        DatedStretch stretch = history().latest().orElseThrow();
        assertThat(stretch.rises()).isTrue();
        assertThat(stretch.meeting()).isEmpty();
        NextWash next =
                NextWash.of(
                        TODAY,
                        Season.PEAK,
                        Optional.of(TODAY.minusDays(1)),
                        Verdict.Call.BELOW,
                        List.of(),
                        Optional.of(stretch));
        assertThat(next.rule()).isEqualTo(NextWash.Rule.ROUTINE);
    }

    @Test
    void treatmentThatLasts_cutsTwice_andTheSeriesGoesOnBehindIt() {
        years.series(colony, TODAY.minusDays(70), 14, 2, 3, 4, 6, 9);
        years.treat(colony, "oxalic acid", TODAY.minusDays(65), TODAY.minusDays(40));
        years.wash(colony, TODAY.minusDays(50), 5);
        years.wash(colony, TODAY.minusDays(30), 1);
        years.wash(colony, TODAY.minusDays(16), 1);

        assertThat(history().stretches())
                .extracting(stretch -> stretch.trend().samples().size())
                .containsExactly(5, 1, 2);
        assertThat(history().latest()).isPresent();
    }

    @Test
    void breakSinceTheLastWash_leavesNothingGoingOn_andNoProjection() {
        years.series(colony, TODAY.minusDays(20), 14, 1, 1, 2, 3, 4, 6);
        years.work.yard().requeen(colony.id(), TODAY.minusDays(10), "", By.nobody());
        assertThat(history().latest()).isEmpty();
        assertThat(history().stretches()).hasSize(1);
    }

    @Test
    void colonyThatTookAnotherIn_isCutThere_andARenameCutsNothing() {
        years.series(colony, TODAY.minusDays(2), 14, 2, 2, 3, 3);
        Colony other = years.colony("F2");
        years.work.yard().mergeInto(other.id(), colony.id(), TODAY.minusDays(25), By.nobody());
        years.work.yard().rename(colony.id(), "F9", TODAY.minusDays(10), By.nobody());

        assertThat(history().stretches())
                .extracting(stretch -> stretch.trend().samples().size())
                .containsExactly(2, 2);
        assertThat(history().events()).hasSize(2);
    }

    @Test
    void eventTakenBack_joinsTheStretchesAgain() {
        years.series(colony, TODAY.minusDays(2), 14, 2, 2, 3, 3);
        var event = years.treat(colony, "formic acid", TODAY.minusDays(25), null);
        assertThat(history().stretches()).hasSize(2);
        years.work.yard().withdraw(event, "other hive", By.nobody());
        assertThat(history().stretches()).hasSize(1);
    }

    @Test
    void simulatedWashes_stayOutOfTheTrend_andAreCounted_butADemonstrationTakesThem(
            @TempDir Path other) {
        years.wash(colony, TODAY.minusDays(30), 3);
        years.wash(colony, TODAY.minusDays(15), 40, 300, true);
        assertThat(history().washes()).hasSize(1);
        years.work
                .washes()
                .plan(new NewWash(colony.id(), TODAY, null, null, null, "", true), By.nobody());
        assertThat(history().simulatedLeftOut())
                .as("what was only planned is nothing that could be in the trend")
                .isEqualTo(1);
        var list = years.work.colonyList();
        var filter = new ColonyList.Filter(null, null, "", false);
        assertThat(list.list(filter, ColonyList.Sort.NAME, Page.first(5)).rows())
                .singleElement()
                .satisfies(row -> assertThat(row.last().mites()).isEqualTo(3));

        try (Years demonstration = new Years(other, true)) {
            Colony invented = demonstration.colony("D1");
            demonstration.wash(invented, TODAY, 4);
            ColonyHistory history =
                    demonstration.work.trends().of(invented.id(), false, LocalDate::toString);
            assertThat(history.washes()).hasSize(1);
            assertThat(history.simulatedLeftOut()).isZero();
        }
    }

    @Test
    void oldYears_areLeftForWhoAsks() {
        years.wash(colony, TODAY.minusYears(3), 3);
        years.wash(colony, TODAY, 3);
        assertThat(history().washes()).hasSize(1);
        assertThat(history().earlier()).isTrue();
        assertThat(years.work.trends().of(colony.id(), true, LocalDate::toString).washes())
                .hasSize(2);
    }

    /** Every interval here but the crossing's is common practice, no source. */
    @Test
    void nextWash_followsTheRuleThatApplies() {
        assertThat(history().next().orElseThrow().rule()).isEqualTo(NextWash.Rule.NEVER_WASHED);

        years.wash(colony, TODAY.minusDays(10), 3);
        NextWash routine = history().next().orElseThrow();
        assertThat(routine.rule()).isEqualTo(NextWash.Rule.ROUTINE);
        assertThat(routine.due()).isEqualTo(TODAY.plusDays(18));

        years.treat(colony, "thymol", TODAY.minusDays(5), TODAY.plusDays(9));
        NextWash after = history().next().orElseThrow();
        assertThat(after.rule()).isEqualTo(NextWash.Rule.AFTER_TREATMENT);
        assertThat(after.due()).isEqualTo(TODAY.plusDays(23));
    }

    @Test
    void nextWash_comesEarlier_whereTheGrowthMayReachTheThresholdBefore() {
        years.series(colony, TODAY.minusDays(2), 14, 1, 1, 2, 3, 4, 6);
        NextWash next = history().next().orElseThrow();
        assertThat(next.rule()).isEqualTo(NextWash.Rule.CROSSING);
        LocalDate earliest = history().latest().orElseThrow().meeting().orElseThrow().earliest();
        // 2.00 per 100 in the last wash leaves it open, which alone would make it due in 14 days.
        assertThat(earliest).isBefore(TODAY.plusDays(5));
        assertThat(next.due()).isEqualTo(TODAY.plusDays(5));
    }

    /** 9 in 300 reach across 3 per 100, 30 in 300 lie above (Garwood 1936: 6.75 to 14.27). */
    @Test
    void nextWash_isSooner_afterAResultThatIsOpenOrAbove() {
        years.wash(colony, TODAY.minusDays(10), 9);
        assertThat(history().next().orElseThrow())
                .isEqualTo(
                        new NextWash(
                                TODAY.plusDays(4), NextWash.Rule.UNDECIDED, TODAY.minusDays(10)));
        years.wash(colony, TODAY.minusDays(9), 30);
        assertThat(history().next().orElseThrow().rule()).isEqualTo(NextWash.Rule.ABOVE);
    }

    @Test
    void endedColony_isNotDue() {
        years.wash(colony, TODAY.minusDays(10), 3);
        years.work.yard().died(colony.id(), TODAY, "", By.nobody());
        assertThat(history().next()).isEmpty();
    }

    /** By the calendar alone: common practice, no source. */
    @ParameterizedTest
    @CsvSource({
        "2031-01-15, NORTHERN, DORMANT",
        "2031-05-31, NORTHERN, INCREASE",
        "2031-06-01, NORTHERN, PEAK",
        "2031-10-31, NORTHERN, DECREASE",
        "2031-11-01, NORTHERN, DORMANT",
        "2031-01-15, SOUTHERN, PEAK",
        "2031-07-15, SOUTHERN, DORMANT",
        "2031-08-31, SOUTHERN, DORMANT",
        "2031-09-01, SOUTHERN, INCREASE"
    })
    void season_isHalfAYearApartOnTheTwoHalves(
            LocalDate day, Hemisphere hemisphere, Season season) {
        assertThat(Season.on(day, hemisphere)).isEqualTo(season);
    }

    @Test
    void list_findsSortsAndPages() {
        Colony ten = years.colony("F10");
        Colony two = years.colony("F2");
        years.wash(ten, TODAY.minusDays(3), 30);
        years.wash(two, TODAY.minusDays(40), 0, 3_000, false);
        var list = years.work.colonyList();
        var any = new ColonyList.Filter(null, null, "", false);
        var page = Page.first(10);

        assertThat(names(list.list(any, ColonyList.Sort.NAME, page).rows()))
                .containsExactly("F1", "F2", "F10");
        assertThat(names(list.list(any, ColonyList.Sort.RESULT, page).rows()))
                .containsExactly("F10", "F2", "F1");
        assertThat(names(list.list(any, ColonyList.Sort.WASHED, page).rows()))
                .containsExactly("F1", "F2", "F10");
        assertThat(
                        names(
                                list.list(
                                                new ColonyList.Filter(
                                                        years.apiary.id(),
                                                        Verdict.Call.ABOVE,
                                                        "",
                                                        false),
                                                ColonyList.Sort.NAME,
                                                page)
                                        .rows()))
                .containsExactly("F10");
        assertThat(
                        names(
                                list.list(
                                                new ColonyList.Filter(null, null, " f1", false),
                                                ColonyList.Sort.NAME,
                                                new Page(2, 1))
                                        .rows()))
                .containsExactly("F10");
        years.work.yard().died(ten.id(), TODAY, "", By.nobody());
        assertThat(list.list(any, ColonyList.Sort.NAME, page).total()).isEqualTo(2);
    }

    private static List<String> names(List<ColonyList.Row> rows) {
        return rows.stream().map(row -> row.line().name()).toList();
    }
}
