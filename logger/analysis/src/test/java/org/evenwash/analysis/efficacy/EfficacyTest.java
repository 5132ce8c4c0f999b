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
        assertThat(Efficacy.withControl(colony(42, 3), CONTROL).remarks())
                .containsExactly(Efficacy.COUNTING_ONLY);
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
    }

    /**
     * R 4.2.2: {@code t.test(x, y, var.equal = FALSE)$parameter} for x = c(3,5,4,6,2,8,5,4,7,6,3,5) and
     * y = c(9,14), whose means have variances .2550505 and 6.25. Equal variances would give 12.
     */
    @Test
    void degreesOfFreedom_areThoseOfWelch() {
        assertThat(GroupEfficacy.welch(0.255050505051, 11, 6.25, 1))
                .isCloseTo(1.08311748699, within(1e-9));
    }

    /**
     * R 4.2.2, for each group A = sum(after) + .5, B = sum(before) + .5, v = max(k/(k-1) *
     * sum((after - A/B*before)^2)/A^2, 1/A + 1/B); V = v1 + v2, df = V^2/(v1^2/2 + v2^2/1); limits
     * 100*(1 - R*exp(±qt(.975, df)*sqrt(V))).
     */
    @Test
    void fewControls_widenTheIntervalOfAGroup() {
        var fit =
                GroupEfficacy.of(
                        List.of(colony(42, 4), colony(55, 2), colony(38, 9)),
                        List.of(colony(35, 44), colony(60, 51)));
        assertThat(fit.efficacy()).isCloseTo(88.5608856089, within(1e-9));
        assertThat(fit.df()).isCloseTo(2.5003894130, within(1e-8));
        assertThat(fit.seLog()).isCloseTo(0.5382701090, within(1e-9));
        assertThat(fit.limits().lower()).isCloseTo(21.6681696313, within(1e-6));
        assertThat(fit.limits().upper()).isCloseTo(98.3294998031, within(1e-6));
    }

    /**
     * 42 to 3 beside 35 to 44, 60 to 51 and 28 to 40. R 4.2.2: {@code f <-
     * fisher.test(matrix(c(3,42,135,123), 2, byrow = TRUE))$conf.int}, v = .08269128 as above without
     * the floor, times k; e = qt(.975, 2)*sqrt(v*(1 + 1/3)); R*exp(±sqrt(log(f/R)^2 + e^2)). The
     * counting alone gives 78.7 to 98.7.
     */
    @Test
    void oneColonyBesideSeveral_holdsHowTheyDiffer() {
        var controls = List.of(colony(35, 44), colony(60, 51), colony(28, 40));
        var result = (Estimate) Efficacy.withControls(colony(42, 3), controls);
        assertThat(result.value()).isCloseTo(93.49206349, within(1e-7));
        // fisher.test finds its limits to about 1e-4.
        assertThat(result.lower()).isCloseTo(58.3151, within(0.005));
        assertThat(result.upper()).isCloseTo(99.2585, within(0.005));
        assertThat(result.remarks()).containsExactly(Efficacy.SCATTER_BETWEEN_CONTROLS);
    }

    @Test
    void oneColonyBesideOne_orNone_saysWhatItsIntervalHolds() {
        assertThat(Efficacy.withControls(colony(42, 3), List.of(CONTROL)).remarks())
                .containsExactly(Efficacy.COUNTING_ONLY);
        assertThat(Efficacy.withControls(colony(42, 3), List.of()).remarks())
                .containsExactly(Efficacy.NATURAL_CHANGE);
    }

    /** Nothing left, or nothing to compare with: no limit turns into a number by accident. */
    @Test
    void oneColonyBesideSeveral_atTheEdges() {
        var controls = List.of(colony(35, 44), colony(20, 30));
        var none = (Bound) Efficacy.withControls(colony(60, 0), controls);
        assertThat(none.side()).isEqualTo(Side.AT_LEAST);
        assertThat(none.limit()).isFinite().isLessThan(100);
        assertThat(Efficacy.withControls(colony(0, 9), controls)).isInstanceOf(Bound.class);
        assertThat(Efficacy.withControls(colony(0, 0), controls)).isInstanceOf(NotEnoughData.class);
        assertThat(Efficacy.withControls(colony(20, 0), List.of(colony(15, 0), colony(12, 0))))
                .isInstanceOf(NotEnoughData.class);
        var alike = (Estimate) Efficacy.withControls(colony(42, 3), List.of(CONTROL, CONTROL));
        assertThat(alike.lower()).as("alike to the mite: the counting is left").isFinite();
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
