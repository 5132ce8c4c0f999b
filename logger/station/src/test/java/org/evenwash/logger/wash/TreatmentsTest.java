package org.evenwash.logger.wash;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.UUID;
import org.evenwash.analysis.Result;
import org.evenwash.logger.store.Colony;
import org.evenwash.record.Pass;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class TreatmentsTest {
    private static final LocalDate START = Years.TODAY.minusDays(60);
    private static final LocalDate END = START.plusDays(21);

    @TempDir Path folder;
    private Years years;
    private Colony treated;

    @BeforeEach
    void open() {
        years = new Years(folder, false);
        treated = years.colony("F1");
    }

    @AfterEach
    void close() {
        years.close();
    }

    private UUID treat(Colony colony) {
        return years.treat(colony, "oxalic acid", START, END);
    }

    private void around(Colony colony, int before, int after) {
        years.wash(colony, START.minusDays(3), before);
        years.wash(colony, END.plusDays(16), after);
    }

    private TreatmentEffect effect(UUID event) {
        return years.work.treatments().effect(event);
    }

    /** Henderson and Tilton 1955; a public test suite's example: 50 to 5 beside 40 to 60 is 93.333 %. */
    @Test
    void besideAnUntreatedColony_isHendersonAndTilton() {
        around(treated, 50, 5);
        around(years.colony("F2"), 40, 60);
        TreatmentEffect effect = effect(treat(treated));
        Result.Estimate efficacy = (Result.Estimate) effect.efficacy();
        assertThat(efficacy.value()).isCloseTo(93.333, within(0.001));
        assertThat(efficacy.lower()).isBetween(70.0, 93.0);
        assertThat(effect.controls()).hasSize(1);
        assertThat(effect.group()).isEmpty();
        assertThat(efficacy.remarks()).anyMatch(one -> one.contains("the counting alone"));
    }

    /** What two controls differ by is in the interval: one doubled, one halved. */
    @Test
    void besideColoniesThatDiffer_theIntervalIsWider() {
        around(treated, 50, 5);
        around(years.colony("F2"), 20, 40);
        around(years.colony("F3"), 20, 10);
        Result.Estimate efficacy = (Result.Estimate) effect(treat(treated)).efficacy();
        assertThat(efficacy.lower()).as("the counting alone would give some 75").isNegative();
        assertThat(efficacy.remarks()).anyMatch(one -> one.contains("among themselves"));
    }

    @Test
    void withoutAControl_saysThatNaturalChangeIsInIt() {
        around(treated, 50, 5);
        Result.Estimate efficacy = (Result.Estimate) effect(treat(treated)).efficacy();
        assertThat(efficacy.value()).isCloseTo(90, within(1e-9));
        assertThat(efficacy.remarks()).anyMatch(remark -> remark.contains("natural change"));
    }

    @Test
    void coloniesTreatedAlike_areAGroup_andUntreatedOnesItsControls() {
        around(treated, 40, 3);
        UUID event = treat(treated);
        for (int i = 2; i <= 4; i++) {
            Colony alike = years.colony("F" + i);
            around(alike, 30 + i, 2);
            years.treat(alike, "Oxalic Acid", START.plusDays(2), END.plusDays(1));
        }
        Colony other = years.colony("F5");
        around(other, 30, 3);
        years.treat(other, "formic acid", START, null);
        around(years.colony("F6"), 30, 40);
        around(years.colony("F7"), 20, 25);

        TreatmentEffect effect = effect(event);
        assertThat(effect.alike()).hasSize(3);
        assertThat(effect.controls())
                .extracting(pair -> pair.colony().name())
                .containsExactlyInAnyOrder("F6", "F7");
        assertThat(effect.leftOut())
                .containsExactly(
                        new TreatmentEffect.LeftOut(
                                years.work.yard().colony(other.id()),
                                TreatmentEffect.Why.SOMETHING_BETWEEN));
        Result.Estimate group = (Result.Estimate) effect.group().orElseThrow();
        assertThat(group.value()).isBetween(90.0, 98.0);
        assertThat(group.lower()).isLessThan(group.value());
    }

    @Test
    void missingWash_isSaidPlainly() {
        UUID event = treat(treated);
        assertThat(needs(event)).contains("within 42 days before the treatment");
        years.wash(treated, START.minusDays(60), 50);
        assertThat(needs(event)).contains("within 42 days before the treatment");
        years.wash(treated, START, 50);
        assertThat(needs(event)).contains("within 56 days after the last day");
        years.wash(treated, END, 20);
        assertThat(needs(event)).as("a wash on the last day is not after it").contains("56 days");
    }

    @Test
    void anotherTreatmentBetween_isRefused() {
        around(treated, 50, 5);
        UUID event = treat(treated);
        years.treat(treated, "thymol", END.plusDays(5), null);
        assertThat(needs(event)).contains("nothing else between them");
        assertThat(effect(event).own()).isEmpty();
    }

    @Test
    void sameDayWashes_arePooled() {
        years.wash(treated, START.minusDays(3), 20);
        years.wash(treated, START.minusDays(3), 30);
        years.wash(treated, END.plusDays(16), 5);
        TreatmentEffect.Pair own = effect(treat(treated)).own().orElseThrow();
        assertThat(own.before().mites()).isEqualTo(50);
        assertThat(own.before().bees()).isEqualTo(600);
    }

    /** A short wash leaves more mites on the bees: the page judges that day by the last of a kind. */
    @Test
    void sameDayWashesAgitatedUnlike_areNotPooled() {
        UUID brief = years.wash(treated, START, 2);
        UUID whole = years.wash(treated, START, 9);
        years.work.washes().enterPass(brief, Pass.FIRST, null, 20.0, By.nobody());
        years.work.washes().enterPass(whole, Pass.FIRST, null, 120.0, By.nobody());
        years.wash(treated, END.plusDays(16), 5);
        TreatmentEffect.Pair own = effect(treat(treated)).own().orElseThrow();
        assertThat(own.before().mites()).isEqualTo(9);
        assertThat(own.before().bees()).isEqualTo(300);
        years.work.washes().enterPass(brief, Pass.FIRST, null, 120.0, By.nobody());
        assertThat(effect(own(treated)).own().orElseThrow().before().mites())
                .as("no treatment keeps the washes apart that were before it")
                .isEqualTo(11);
    }

    private UUID own(Colony colony) {
        return years.work.yard().events(colony.id()).get(0).id();
    }

    @Test
    void eventThatIsNoTreatment_isNotFound() {
        years.work.yard().requeen(treated.id(), START, "", By.nobody());
        UUID event = years.work.yard().events(treated.id()).get(0).id();
        assertThatThrownBy(() -> effect(event))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("treatment");
    }

    private String needs(UUID event) {
        return ((Result.NotEnoughData) effect(event).efficacy()).needs();
    }
}
