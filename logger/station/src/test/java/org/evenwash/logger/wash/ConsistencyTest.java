package org.evenwash.logger.wash;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.List;
import java.util.UUID;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.operators.ChartReading;
import org.evenwash.analysis.operators.Compared;
import org.evenwash.analysis.operators.OperatorComparison;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.StudyFilter;
import org.evenwash.logger.store.Wash;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Pass;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ConsistencyTest {
    /** Davies and Goldsmith, Statistical Methods in Research and Production, 4th ed. 1972. */
    private static final int[][] DYESTUFF = {
        {1545, 1440, 1440, 1520, 1580},
        {1540, 1555, 1490, 1560, 1495},
        {1595, 1550, 1605, 1510, 1560},
        {1445, 1440, 1595, 1465, 1545},
        {1595, 1630, 1515, 1635, 1625},
        {1520, 1455, 1450, 1480, 1445}
    };

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

    private Consistency.Comparison compared(Compared what) {
        return work.consistency().recovery(StudyFilter.ALL, what);
    }

    /**
     * Smokers among lung cancer patients in four studies, Fleiss 1981, Statistical Methods for Rates
     * and Proportions, 2nd ed., p. 139: χ² 12.600, 3 df, as washes of four operators.
     */
    @Test
    void fleissSmokers_asWashesOfFourOperators_giveThePublishedChiSquare() {
        int[] smokers = {83, 90, 129, 70};
        int[] patients = {86, 93, 136, 82};
        for (int i = 0; i < smokers.length; i++) {
            UUID operator = work.yard().addOperator("Study " + (i + 1), By.nobody()).id();
            runs.byHand(60, smokers[i], patients[i] - smokers[i], operator);
        }

        OperatorComparison found = compared(Compared.OPERATORS).found();

        assertThat(found.homogeneity().orElseThrow().chi2()).isCloseTo(12.600, within(5e-4));
        assertThat(found.funnel()).hasSize(4);
        assertThat(found.verdict()).isEqualTo(OperatorComparison.Verdict.NOT_ENOUGH_DATA);
        assertThat(found.needs().orElseThrow().needs())
                .startsWith("at least 3 washes and 30 mites of each operator");
    }

    @Test
    void oneOperatorOnly_saysWhatIsNeeded_andWashesWithoutANameAreCountedApart() {
        runs.byHand(60, 20, 3, book.first.id());
        runs.byHand(60, 20, 3, null);

        Consistency.Comparison comparison = compared(Compared.OPERATORS);

        assertThat(comparison.found().needs().orElseThrow().needs())
                .isEqualTo("washes with mites by at least 2 operators (now 1)");
        assertThat(comparison.unnamed()).isEqualTo(1);
    }

    @Test
    void washLeftOutOfCalibration_isNotComparedEither() {
        Wash spilt = runs.byHand(60, 20, 3, book.first.id());
        work.calibrating().studies().leaveOut(spilt.id(), "spilt", By.nobody());
        assertThat(compared(Compared.OPERATORS).excluded()).isEqualTo(1);
        assertThat(compared(Compared.OPERATORS).washes()).isEmpty();
    }

    @Test
    void benchesDaysAndBatches_areComparedInTheirOwnWords() {
        runs.byHand(60, 20, 3, book.first.id());
        assertThat(compared(Compared.BENCHES).found().needs().orElseThrow().needs())
                .contains("2 benches");
        assertThat(compared(Compared.DAYS).found().needs().orElseThrow().needs())
                .contains("2 days");
        Consistency.Comparison batches = compared(Compared.BATCHES);
        assertThat(batches.unnamed()).as("no spirit was named").isEqualTo(1);
    }

    /** Dyestuff yields as analysed by Bates with lme4: residual SD 49.51, batch SD 42.00. */
    @Test
    void dyestuffYields_asRecountsOfSixOperators_giveThePublishedPrecision() {
        Wash wash = runs.byHand(60, DYESTUFF[0][0], 1, null);
        boolean first = true;
        for (int i = 0; i < DYESTUFF.length; i++) {
            UUID operator = work.yard().addOperator("Batch " + i, By.nobody()).id();
            for (int yield : DYESTUFF[i]) {
                if (first) {
                    first = false;
                    correctCounter(wash, operator);
                } else {
                    work.counting()
                            .recount(wash.id(), Pass.FIRST, yield, operator, true, By.nobody());
                }
            }
        }

        Consistency.Counting counting = work.consistency().counting(StudyFilter.ALL);

        Result.Estimate repeatability = (Result.Estimate) counting.study().repeatability();
        Result.Estimate reproducibility = (Result.Estimate) counting.study().reproducibility();
        assertThat(repeatability.value()).isCloseTo(49.51, within(0.005));
        assertThat(reproducibility.value()).isCloseTo(Math.hypot(49.51, 42.00), within(0.01));
        assertThat(counting.catches()).isEqualTo(1);
        assertThat(counting.reading().stage()).isEqualTo(ChartReading.Stage.READY);
    }

    /** The first count of a helper has nobody's name; here it gets one. */
    private void correctCounter(Wash wash, UUID operator) {
        book.database.change(
                handle ->
                        handle.createUpdate(
                                        "UPDATE mite_count SET counted_by = :who WHERE mites > 1")
                                .bind("who", operator)
                                .execute());
        assertThat(work.sheets().of(wash.id()).mites()).isPresent();
    }

    @Test
    void recountThatKnewTheFirst_isLeftOutAndCounted() {
        Wash wash = work.washes().plan(NewWash.today(book.colony.id(), null), By.nobody());
        work.counting().enter(wash.id(), Pass.FIRST, 9, book.first.id(), By.nobody());
        work.counting().recount(wash.id(), Pass.FIRST, 9, book.second.id(), false, By.nobody());

        Consistency.Counting counting = work.consistency().counting(StudyFilter.ALL);

        assertThat(counting.open()).isEqualTo(1);
        assertThat(counting.catches()).isZero();
        assertThat(counting.study().repeatability()).isInstanceOf(Result.NotEnoughData.class);
        assertThat(counting.reading().stage()).isEqualTo(ChartReading.Stage.NO_LIMITS);
    }

    /**
     * NIST/SEMATECH e-Handbook 6.3.2.2, flow rates times ten as counted bees: mean 508.1, limits
     * 458.159 and 558.041 (the handbook rounds d2).
     */
    @Test
    void nistFlowRates_asCountedBees_giveTheHandbooksLimits() {
        int[] bees = {496, 476, 499, 513, 478, 512, 526, 524, 536, 521};
        for (int number : bees) {
            Wash wash = work.washes().plan(NewWash.today(book.colony.id(), null), By.nobody());
            work.washes()
                    .enterBees(
                            wash.id(),
                            wash.version(),
                            BeeMeasure.COUNTED,
                            number,
                            null,
                            null,
                            null,
                            By.nobody());
        }

        ChartReading reading = work.consistency().samples(StudyFilter.ALL).counted();

        assertThat(reading.stage()).as("ten are few").isEqualTo(ChartReading.Stage.PROVISIONAL);
        assertThat(reading.centre().orElseThrow()).isCloseTo(508.1, within(1e-9));
        assertThat(reading.points()).hasSize(10);
    }

    @Test
    void interruptions_areAddedUpByCause() {
        var lid = new CycleRecord.Interruption("LID-OPEN", "lid open", 30, 9, 1);
        var again = new CycleRecord.Interruption("LID-OPEN", "lid open", 60, 3, 2);
        var hold = new CycleRecord.Interruption("HOLD", "held at the panel", 20, 5, 1);
        runs.store(runs.cycle(Book.RECIPE, false, List.of(lid, again, hold)));
        runs.store(runs.cycle(Book.RECIPE, false, List.of(lid)));
        runs.store(runs.cycle(Book.RECIPE, false, List.of()));
        runs.store(runs.cycle(Book.RECIPE, true, List.of(lid)));

        CycleTiming timing = work.consistency().cycles(null);

        assertThat(timing.cycles()).as("the simulated one does not count").hasSize(3);
        assertThat(timing.conforming()).isEqualTo(1);
        assertThat(timing.causes())
                .containsExactly(
                        new CycleTiming.Cause("LID-OPEN", "lid open", 3, 2, 21),
                        new CycleTiming.Cause("HOLD", "held at the panel", 1, 1, 5));
        assertThat(timing.difference().stage()).isEqualTo(ChartReading.Stage.NO_LIMITS);
    }
}
