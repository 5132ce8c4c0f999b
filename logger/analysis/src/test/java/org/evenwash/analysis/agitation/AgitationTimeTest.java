package org.evenwash.analysis.agitation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.assertj.core.data.Percentage;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.junit.jupiter.api.Test;

class AgitationTimeTest {

    private static final double[] TIMES = {10, 20, 40, 60, 90, 120};

    private interface Share {
        double after(double seconds);
    }

    /** Washes that follow a curve as closely as whole mites allow. */
    private static List<TimedWash> exact(Share share, int mites, int repeats) {
        List<TimedWash> washes = new ArrayList<>();
        for (int repeat = 0; repeat < repeats; repeat++) {
            for (double t : TIMES) {
                int first = (int) Math.round(mites * share.after(t));
                washes.add(new TimedWash(t, first, mites - first));
            }
        }
        return washes;
    }

    private static Estimate estimate(Result result) {
        assertThat(result).isInstanceOf(Estimate.class);
        return (Estimate) result;
    }

    private static NotEnoughData refusal(Result result) {
        assertThat(result).isInstanceOf(NotEnoughData.class);
        return (NotEnoughData) result;
    }

    @Test
    void oneRate_isKeptAndItsTimeFound() {
        var report = AgitationTime.exhaustive(exact(t -> -Math.expm1(-0.05 * t), 200, 3), 0.95);
        assertThat(report.choice().orElseThrow().chosen().model())
                .isEqualTo(ReleaseModel.EXPONENTIAL);
        assertThat(estimate(report.result()).value())
                .isCloseTo(Math.log(20) / 0.05, Percentage.withPercentage(2));
    }

    @Test
    void aPlateau_isSeenAndAShareAboveItHasNoUpperLimit() {
        var washes = exact(t -> -0.9 * Math.expm1(-0.06 * t), 200, 3);
        var below = AgitationTime.exhaustive(washes, 0.8);
        assertThat(below.choice().orElseThrow().chosen()).isInstanceOf(SaturatingFit.class);
        assertThat(estimate(below.result()).value())
                .isCloseTo(-Math.log1p(-0.8 / 0.9) / 0.06, Percentage.withPercentage(5));
        Result above = AgitationTime.exhaustive(washes, 0.97).result();
        assertThat(refusal(above).needs()).contains("plateau stays below 97 %");
        Result near = AgitationTime.exhaustive(washes, 0.901).result();
        if (near instanceof Bound bound) {
            assertThat(bound.side()).isEqualTo(Result.Side.AT_LEAST);
        } else {
            assertThat(estimate(near).upper()).isInfinite();
        }
    }

    @Test
    void aSlowingRate_isFittedByTheThirdCurve() {
        var washes = exact(t -> -Math.expm1(-0.25 * Math.pow(t, 0.5)), 300, 3);
        var choice = AgitationTime.exhaustive(washes, 0.9).choice().orElseThrow();
        assertThat(choice.lackOfFit().orElseThrow().misfit()).isTrue();
        assertThat(choice.chosen()).isInstanceOf(WeibullFit.class);
        assertThat(((WeibullFit) choice.chosen()).line().b1()).isCloseTo(0.5, within(0.03));
    }

    @Test
    void timesBeyondThoseTried_areMarkedExtrapolated() {
        var washes = exact(t -> -Math.expm1(-0.01 * t), 100, 3);
        assertThat(AgitationTime.exhaustive(washes, 0.95).result().remarks())
                .anyMatch(r -> r.startsWith("Extrapolated: the longest agitation tried was 120 s"));
    }

    @Test
    void fewWashesTimesOrMites_giveNoVerdictButSayWhatIsMissing() {
        List<TimedWash> few =
                List.of(
                        new TimedWash(20, 12, 8),
                        new TimedWash(40, 15, 3),
                        new TimedWash(40, 16, 4));
        var report = AgitationTime.exhaustive(few, 0.95);
        assertThat(refusal(report.result()).needs())
                .isEqualTo(
                        "at least 12 washes with mites (now 3), at least 3 different times (now 2), at"
                                + " least 150 mites in all (now 58)");
        assertThat(report.choice()).as("the fit itself is there to be seen").isPresent();
    }

    /** Expected numbers: R 4.2.2, uniroot of Σ N·ln(share off by the first of two) = ln 0.025 over ln k. */
    @Test
    void noMitesLeftInAnySecondWash_boundsTheTimeFromAbove() {
        Bound few = bound(AgitationTime.exhaustive(List.of(new TimedWash(20, 3, 0)), 0.95));
        assertThat(few.limit()).isCloseTo(173.2243820610452, within(1e-8));
        assertThat(few.remarks())
                .contains(
                        "The shortest agitation tried was 20 s.",
                        "Too little to make a recipe of: needs at least 12 washes with mites (now 1), at"
                                + " least 3 different times (now 1), at least 150 mites in all (now 3).");
        // Of 156 mites none was missed: Clopper and Pearson's limit is 0.025^(1/156).
        Bound one = bound(AgitationTime.exhaustive(allOff(12, 13, 60), 0.95));
        assertThat(one.limit()).isCloseTo(47.8509019525877, within(1e-8));
        double k = -Math.log(1 - Math.pow(0.025, 1 / 156.0)) / 60;
        assertThat(one.limit()).isCloseTo(Math.log(20) / k, within(1e-9));
        assertThat(one.remarks())
                .anyMatch(r -> r.startsWith("Curve used: one rate for all mites."))
                .contains(
                        "The shortest agitation tried was 60 s; that less is enough rests on the curve"
                                + " alone.");
        Bound several = bound(AgitationTime.exhaustive(allOff(15, 10, 20, 40, 60), 0.95));
        assertThat(several.limit()).isCloseTo(22.128064930075, within(1e-8));
        assertThat(several.remarks()).noneMatch(r -> r.startsWith("Too little"));
        Result again = AgitationTime.sameMethod(allOff(15, 10, 20, 40, 60), 0.95).result();
        assertThat(((Bound) again).limit()).isCloseTo(22.130197886934, within(1e-8));
        assertThat(again.remarks()).hasSize(3);
    }

    private static Bound bound(AgitationTime.Report report) {
        assertThat(report.result()).isInstanceOf(Bound.class);
        assertThat(((Bound) report.result()).side()).isEqualTo(Result.Side.AT_MOST);
        return (Bound) report.result();
    }

    /** Washes at each time in turn, with a second wash of 60 s that found nothing. */
    private static List<TimedWash> allOff(int size, int mites, double... times) {
        List<TimedWash> washes = new ArrayList<>();
        for (int i = 0; i < size; i++) {
            washes.add(new TimedWash(times[i % times.length], mites, 0, OptionalDouble.of(60)));
        }
        return washes;
    }

    @Test
    void aTimeAtWhichNoMiteWasFound_isNotOneOfThree() {
        List<TimedWash> washes = allOff(14, 12, 40, 60);
        washes.add(new TimedWash(90, 0, 0));
        assertThat(AgitationTime.lacking(washes)).hasValue("at least 3 different times (now 2)");
    }

    @Test
    void noMitesOffInAnyFirstWash_isRefused() {
        Result result = AgitationTime.exhaustive(List.of(new TimedWash(60, 0, 9)), 0.95).result();
        assertThat(refusal(result).needs()).contains("first wash took some mites off");
    }

    @Test
    void washesWithoutMites_areNotCounted() {
        var washes = new ArrayList<>(exact(t -> -Math.expm1(-0.05 * t), 50, 3));
        Result before = AgitationTime.exhaustive(washes, 0.9).result();
        washes.add(new TimedWash(300, 0, 0));
        assertThat(AgitationTime.exhaustive(washes, 0.9).result()).isEqualTo(before);
    }

    @Test
    void lessOffTheLongerItWasAgitated_givesNoTime() {
        var washes = exact(t -> 0.9 - 0.004 * t, 50, 3);
        assertThat(refusal(AgitationTime.exhaustive(washes, 0.95).result()).needs())
                .contains("more agitation did not take more mites off");
    }

    @Test
    void shortSecondWashesByTheSameMethod_areNotTakenForExhaustive() {
        double k = 0.05;
        List<TimedWash> washes = new ArrayList<>();
        for (int repeat = 0; repeat < 4; repeat++) {
            for (double t : TIMES) {
                int first = (int) Math.round(300 * -Math.expm1(-k * t));
                int second = (int) Math.round((300 - first) * -Math.expm1(-k * 20));
                washes.add(new TimedWash(t, first, second, OptionalDouble.of(20)));
            }
        }
        var report = AgitationTime.sameMethod(washes, 0.95);
        double truth = Math.log(20) / k;
        assertThat(estimate(report.result()).value())
                .isCloseTo(truth, Percentage.withPercentage(2));
        double naive = ExponentialFit.fit(washes, 0.95).orElseThrow().time().seconds();
        assertThat(naive)
                .as("taken for exhaustive the time comes out short")
                .isLessThan(0.9 * truth);
        assertThat(report.result().remarks())
                .anyMatch(r -> r.contains("shortest second wash was 20 s"));
    }

    /**
     * Expected numbers: R 4.2.2, optimize and uniroot over ln k, phi after Fletcher 2012, cut-off
     * phi·qf(.95, 1, 15); unscaled with qchisq(.95, 1).
     */
    @Test
    void scatterBetweenWashes_widensTheIntervalAndTheBand_andThePlainOneIsARemark() {
        int[][] pairs = {
            {6, 18}, {17, 9}, {9, 12}, {14, 10}, {19, 7}, {12, 14}, {24, 3}, {16, 9},
            {27, 2}, {18, 9}, {25, 3}, {29, 0}, {29, 1}, {22, 6}, {30, 0}, {26, 3}
        };
        List<TimedWash> washes = new ArrayList<>();
        for (int i = 0; i < pairs.length; i++) {
            washes.add(
                    new TimedWash(TIMES[i / 4], pairs[i][0], pairs[i][1], OptionalDouble.of(60)));
        }
        var report = AgitationTime.sameMethod(washes, 0.95);
        ConditionalFit fit = report.fit().orElseThrow();
        assertThat(fit.quality().phi()).isCloseTo(3.33750977673, within(1e-5));
        Estimate time = estimate(report.result());
        assertThat(time.value()).isCloseTo(59.2642476417, within(1e-4));
        assertThat(time.lower()).isCloseTo(45.2520969455, within(1e-4));
        assertThat(time.upper()).isCloseTo(80.1719228903, within(1e-4));
        TimeToShare unscaled = fit.unscaled().orElseThrow();
        assertThat(unscaled.lower()).isCloseTo(51.5845259793, within(1e-4));
        assertThat(unscaled.upper()).isCloseTo(68.6347716337, within(1e-4));
        assertThat(time.remarks())
                .anyMatch(r -> r.contains("scatter 3.3 times") && r.contains("is widened for it"))
                .contains("By chance in counting alone the interval would be 51.6 s to 68.6 s.");
        var band = ReleaseCurve.of(fit, new double[] {time.lower(), time.upper()});
        assertThat(band.get(0).upper()).isCloseTo(0.95, within(1e-9));
        assertThat(band.get(1).lower()).isCloseTo(0.95, within(1e-9));
    }

    @Test
    void theBandOfACurve_holdsItsTimeInterval() {
        var washes = exact(t -> -Math.expm1(-0.05 * t), 40, 3);
        for (ReleaseFit fit :
                List.of(
                        ExponentialFit.fit(washes, 0.9).orElseThrow(),
                        SaturatingFit.fit(washes, 0.9).orElseThrow(),
                        WeibullFit.fit(washes, 0.9).orElseThrow())) {
            TimeToShare time = fit.timeToShare().orElseThrow();
            var points = ReleaseCurve.of(washes, fit, new double[] {time.lower(), time.upper()});
            // Where the time's limits lie, the asked share lies on the edge of the band.
            assertThat(points.get(0).upper()).isCloseTo(0.9, within(1e-6));
            assertThat(points.get(1).lower()).isCloseTo(0.9, within(1e-6));
        }
    }

    @Test
    void impossibleInput_isRefusedWithAReason() {
        assertThatThrownBy(() -> new TimedWash(0, 1, 1)).hasMessageContaining("agitation of 0.0 s");
        assertThatThrownBy(() -> new TimedWash(10, -1, 1)).hasMessageContaining("negative");
        assertThatThrownBy(() -> AgitationTime.exhaustive(List.of(), 95))
                .hasMessageContaining("expected between 0 and 1");
        assertThatThrownBy(() -> AgitationTime.sameMethod(List.of(new TimedWash(10, 1, 1)), 0.9))
                .hasMessageContaining("no time for its second wash");
    }
}
