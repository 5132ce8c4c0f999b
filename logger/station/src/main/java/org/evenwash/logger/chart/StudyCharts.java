package org.evenwash.logger.chart;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.agitation.ConditionalFit;
import org.evenwash.analysis.agitation.ModelChoice;
import org.evenwash.analysis.agitation.ReleaseCurve;
import org.evenwash.analysis.agitation.TimeToShare;
import org.evenwash.analysis.agitation.TimedWash;
import org.evenwash.analysis.beecount.BeeCount;
import org.evenwash.analysis.beecount.MassRatio;
import org.evenwash.analysis.operators.ChartReading;
import org.evenwash.analysis.operators.Funnel;
import org.evenwash.analysis.operators.OperatorComparison;

/** Charts straight from what an analysis found: the same on command line, page and report. */
public final class StudyCharts {
    private static final int CURVE_POINTS = 120;
    private static final int LIMIT_POINTS = 100;
    private static final int BAND_POINTS = 60;

    /** A little beyond the longest agitation that was tried. */
    private static final double BEYOND_LONGEST = 1.05;

    /** As far beyond the samples as their calibration may be trusted. */
    private static final double BEYOND_SAMPLES = 1.15;

    private StudyCharts() {}

    /**
     * The chosen curve of second washes that took off all that was left.
     *
     * @param answer what was said of the time; a time is marked only where that is an estimate
     */
    public static Drawing agitation(
            String title, List<TimedWash> washes, ModelChoice choice, Result answer) {
        List<FitChart.Wash> shares =
                washes.stream()
                        .filter(wash -> wash.mites() > 0)
                        .map(
                                wash ->
                                        new FitChart.Wash(
                                                wash.agitationS(),
                                                wash.firstWashMites() / wash.mites()))
                        .toList();
        return fit(
                title,
                shares,
                ReleaseCurve.of(washes, choice.chosen(), times(washes)),
                marked(answer, choice.chosen().timeToShare()));
    }

    /** The curve of second washes by the same method; shares are of what that method can take off. */
    public static Drawing agitation(
            String title, List<TimedWash> washes, ConditionalFit fit, Result answer) {
        List<FitChart.Wash> shares = new ArrayList<>();
        for (TimedWash wash : washes) {
            // Of all that can come off, both washes together took off the share that the fit gives.
            double both = fit.share(wash.agitationS() + wash.secondWashS().orElseThrow());
            if (wash.mites() > 0) {
                shares.add(
                        new FitChart.Wash(
                                wash.agitationS(), both * wash.firstWashMites() / wash.mites()));
            }
        }
        return fit(
                title,
                shares,
                ReleaseCurve.of(fit, times(washes)),
                marked(answer, Optional.of(fit.time())));
    }

    private static Optional<TimeToShare> marked(Result answer, Optional<TimeToShare> time) {
        return time.filter(found -> answer instanceof Estimate);
    }

    private static double[] times(List<TimedWash> washes) {
        double end_s =
                BEYOND_LONGEST
                        * washes.stream().mapToDouble(TimedWash::agitationS).max().orElseThrow();
        return Scale.steps(end_s / CURVE_POINTS, end_s, CURVE_POINTS);
    }

    private static Drawing fit(
            String title,
            List<FitChart.Wash> washes,
            List<ReleaseCurve.Point> curve,
            Optional<TimeToShare> target) {
        return FitChart.draw(
                title,
                washes,
                curve.stream()
                        .map(p -> new FitChart.Curve(p.seconds(), p.share(), p.lower(), p.upper()))
                        .toList(),
                target.filter(time -> Double.isFinite(time.seconds()))
                        .map(
                                time ->
                                        new FitChart.Target(
                                                time.share(),
                                                time.seconds(),
                                                time.lower(),
                                                time.upper())));
    }

    /**
     * Everybody's share inside the limits, as it would lie if all had washed under the same
     * conditions; nothing without two of them and mites on and off.
     */
    public static Optional<Drawing> funnel(String title, OperatorComparison found) {
        double pooled = found.homogeneity().map(h -> h.pooled()).orElse(Double.NaN);
        if (found.funnel().size() < 2 || Double.isNaN(pooled)) {
            return Optional.empty();
        }
        double most = found.funnel().stream().mapToDouble(Funnel.Point::mites).max().orElseThrow();
        double[] at = Scale.steps(Math.max(2, most / LIMIT_POINTS), 1.1 * most, LIMIT_POINTS);
        return Optional.of(
                FunnelChart.draw(
                        title,
                        found.funnel().stream()
                                .map(
                                        p ->
                                                new FunnelChart.Operator(
                                                        p.operator(), p.mites(), p.alike()))
                                .toList(),
                        found.compared().many(),
                        pooled,
                        Funnel.lines(pooled, found.phiWithin(), at).stream()
                                .map(
                                        line ->
                                                new FunnelChart.Limits(
                                                        line.mites(),
                                                        line.inner().lower(),
                                                        line.inner().upper(),
                                                        line.outer().lower(),
                                                        line.outer().upper()))
                                .toList()));
    }

    /** Bees at one fill line; nothing below three counted samples. */
    public static Optional<Drawing> fillLine(String title, double[] bees) {
        return BeeCount.sampleAtFillLine(bees).isEmpty()
                ? Optional.empty()
                : Optional.of(
                        CalibrationChart.fillLine(
                                title,
                                DoubleStream.of(bees).boxed().toList(),
                                (Estimate) BeeCount.atFillLine(bees)));
    }

    /** Bees by mass and those of a new sample of {@code newGrams}; nothing below three samples. */
    public static Optional<Drawing> mass(
            String title, double[] grams, double[] bees, double newGrams) {
        if (BeeCount.sampleByMass(grams, bees, newGrams).isEmpty()) {
            return Optional.empty();
        }
        double end = BEYOND_SAMPLES * Math.max(newGrams, Arrays.stream(grams).max().orElseThrow());
        List<CalibrationChart.Band> band = new ArrayList<>();
        for (double at : Scale.steps(end / BAND_POINTS, end, BAND_POINTS)) {
            MassRatio there = MassRatio.of(grams, bees, at);
            band.add(
                    new CalibrationChart.Band(
                            at,
                            there.bees(),
                            Math.max(0, there.limits().lower()),
                            there.limits().upper()));
        }
        return Optional.of(
                CalibrationChart.mass(
                        title,
                        IntStream.range(0, grams.length)
                                .mapToObj(i -> new CalibrationChart.Sample(grams[i], bees[i]))
                                .toList(),
                        band,
                        newGrams,
                        (Estimate) BeeCount.byMass(grams, bees, newGrams)));
    }

    /**
     * Values in their order inside their limits; nothing where there are too few for any limits.
     *
     * @param unit what the values are, for the upright axis
     */
    public static Optional<Drawing> individuals(String title, String unit, ChartReading reading) {
        return reading.centre()
                .map(
                        centre ->
                                IndividualsChart.draw(
                                        new IndividualsChart.Individuals(
                                                title,
                                                unit,
                                                reading.points().stream()
                                                        .map(ChartReading.Point::value)
                                                        .toList(),
                                                centre,
                                                reading.points().get(0).lower(),
                                                reading.points().get(0).upper(),
                                                signals(reading),
                                                reading.stage()
                                                        == ChartReading.Stage.PROVISIONAL)));
    }

    private static Set<Integer> signals(ChartReading reading) {
        Set<Integer> signals = new TreeSet<>();
        for (int i = 0; i < reading.points().size(); i++) {
            if (reading.points().get(i).signals()) {
                signals.add(i);
            }
        }
        return signals;
    }
}
