package org.evenwash.analysis.efficacy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.Result.Side;
import org.junit.jupiter.api.Test;

class EfficacyTest {

    private static final BeforeAfter CONTROL = colony(35, 44);

    @Test
    void noMiteAfterTreatment_isNeverA100WithoutItsLowerLimit() {
        for (Result result :
                List.of(
                        Efficacy.withControl(colony(40, 0), CONTROL),
                        Efficacy.withoutControl(colony(40, 0)),
                        Efficacy.againstControl(new Wash(40, 300), new Wash(0, 300)),
                        Efficacy.ofGroups(four(40, 0), four(35, 44)),
                        Efficacy.ofGroupWithoutControl(four(40, 0)))) {
            var bound = (Bound) result;
            assertThat(bound.side()).isEqualTo(Side.AT_LEAST);
            assertThat(bound.limit()).isBetween(0.0, 100.0);
            assertThat(bound.remarks()).contains(Efficacy.NONE_LEFT);
        }
    }

    @Test
    void noMiteBefore_leavesAtMostABound() {
        var bound = (Bound) Efficacy.withControl(colony(0, 9), CONTROL);
        assertThat(bound.side()).isEqualTo(Side.AT_MOST);
        assertThat(Efficacy.withControl(colony(0, 0), CONTROL)).isInstanceOf(NotEnoughData.class);
        assertThat(Efficacy.withoutControl(colony(0, 0))).isInstanceOf(NotEnoughData.class);
        assertThat(Efficacy.withoutControl(colony(0, 8))).isInstanceOf(Bound.class);
    }

    @Test
    void noMiteInTheControlAfterwards_leavesAtMostABound() {
        assertThat(Efficacy.withControl(colony(20, 2), colony(15, 0))).isInstanceOf(Bound.class);
        assertThat(Efficacy.withControl(colony(20, 0), colony(15, 0)))
                .isInstanceOf(NotEnoughData.class);
    }

    @Test
    void negativeEfficacy_isGivenAsItIs() {
        var result = (Estimate) Efficacy.withoutControl(colony(20, 30));
        assertThat(result.value()).isCloseTo(-50, within(1e-9));
        assertThat(result.remarks()).containsExactly(Efficacy.NATURAL_CHANGE);
    }

    @Test
    void fewMitesBefore_areRemarked() {
        assertThat(Efficacy.withControl(colony(8, 1), CONTROL).remarks())
                .contains(Efficacy.FEW_BEFORE);
        assertThat(Efficacy.withControl(colony(42, 3), CONTROL).remarks()).isEmpty();
    }

    /** With 8 mites before, a treatment of true 97 % leaves none; the certain part is next to nothing. */
    @Test
    void moreMitesBefore_raiseTheCertainPart() {
        double eight = ((Bound) Efficacy.withControl(colony(8, 0), colony(8, 8))).limit();
        double twenty = ((Bound) Efficacy.withControl(colony(20, 0), colony(20, 20))).limit();
        double sixty = ((Estimate) Efficacy.withControl(colony(60, 2), colony(60, 60))).lower();
        assertThat(eight).isLessThan(twenty);
        assertThat(twenty).isLessThan(sixty);
        assertThat(sixty).isCloseTo(87, within(3.0));
    }

    @Test
    void moreBeesWashedAfterwards_countAsMoreEfficacy() {
        var same = (Estimate) Efficacy.withoutControl(colony(40, 5));
        var more =
                (Estimate)
                        Efficacy.withoutControl(
                                new BeforeAfter(new Wash(40, 300), new Wash(5, 600)));
        assertThat(100 - more.value()).isCloseTo((100 - same.value()) / 2, within(1e-9));
    }

    @Test
    void groups_needTwoColoniesEachAndRemarkFewerThanFour() {
        assertThat(Efficacy.ofGroups(four(40, 3).subList(0, 1), four(35, 44)))
                .isInstanceOf(NotEnoughData.class);
        assertThat(Efficacy.ofGroupWithoutControl(List.of())).isInstanceOf(NotEnoughData.class);
        assertThat(Efficacy.ofGroups(four(40, 3).subList(0, 3), four(35, 44)).remarks())
                .contains(Efficacy.FEW_COLONIES);
        assertThat(Efficacy.ofGroups(four(0, 3), four(35, 44))).isInstanceOf(NotEnoughData.class);
    }

    /** Colonies alike to the mite: only counting noise is left, and that is the floor. */
    @Test
    void identicalColonies_areNoSurerThanCounting() {
        var fit = GroupEfficacy.of(four(40, 3), four(35, 44));
        double counting = 1 / 160.5 + 1 / 12.5 + 1 / 140.5 + 1 / 176.5;
        assertThat(fit.seLog()).isCloseTo(Math.sqrt(counting), within(1e-12));
        assertThat(fit.df()).isEqualTo(6);
    }

    @Test
    void beesScaleOut_ofAGroup() {
        var single = four(40, 4);
        var doubled = new BeforeAfter(new Wash(80, 600), new Wash(8, 600));
        var mixed = List.of(doubled, single.get(0), single.get(1), single.get(2));
        assertThat(GroupEfficacy.withoutControl(mixed).efficacy())
                .isCloseTo(GroupEfficacy.withoutControl(single).efficacy(), within(0.2));
    }

    private static BeforeAfter colony(int before, int after) {
        return new BeforeAfter(new Wash(before, 300), new Wash(after, 300));
    }

    private static List<BeforeAfter> four(int before, int after) {
        BeforeAfter one = colony(before, after);
        return List.of(one, one, one, one);
    }
}
