package org.evenwash.analysis.trend;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.DoubleFunction;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.Result.Side;
import org.evenwash.analysis.numeric.Limits;

/**
 * How fast a colony's infestation grows between two breaks of its series.
 *
 * @param growth per cent a week
 * @param doubling weeks to double, or to halve when it falls (see the remarks)
 * @param infestation of the whole stretch, mites per 100 bees, when no slope can be told
 * @param fit empty where no slope can be fitted
 * @param samples of this stretch, in order of time
 */
public record ColonyTrend(
        Result growth,
        Result doubling,
        Optional<Result> infestation,
        Optional<GrowthFit> fit,
        List<Sample> samples) {

    /** Fewer dates give no verdict; washes of one day are one date ({@link Sample#day}). */
    public static final int MIN_DATES = 4;

    /** Fewer mites give no verdict. */
    public static final int MIN_MITES = 15;

    public ColonyTrend {
        samples = List.copyOf(samples);
    }

    /** A point of the fitted line with its 95 % band, mites per 100 bees. */
    public record Point(double week, double infestation, double lower, double upper) {}

    /**
     * Cuts a series at every break (treatment, requeening, split, merge) and looks at each stretch by
     * itself: one line through a treatment describes neither side of it.
     *
     * @param breaks weeks; a sample on the very week of a break belongs to the stretch before
     */
    public static List<ColonyTrend> stretches(List<Sample> samples, List<Double> breaks) {
        List<Sample> inOrder =
                samples.stream().sorted(Comparator.comparingDouble(Sample::week)).toList();
        List<Double> cuts = breaks.stream().sorted().toList();
        List<List<Sample>> parts = new ArrayList<>();
        int cutsPassed = -1;
        for (Sample sample : inOrder) {
            int passed = (int) cuts.stream().filter(cut -> cut < sample.week()).count();
            if (passed != cutsPassed) {
                parts.add(new ArrayList<>());
                cutsPassed = passed;
            }
            parts.get(parts.size() - 1).add(sample);
        }
        return parts.stream().map(ColonyTrend::of).toList();
    }

    /** One stretch without a break. */
    public static ColonyTrend of(List<Sample> samples) {
        List<Sample> inOrder =
                samples.stream().sorted(Comparator.comparingDouble(Sample::week)).toList();
        long mites = inOrder.stream().mapToLong(Sample::mites).sum();
        long bees = inOrder.stream().mapToLong(Sample::bees).sum();
        long dates = dates(inOrder);
        Optional<GrowthFit> fit = GrowthFit.of(inOrder);
        if (bees > 0 && mites == 0) {
            double limit = 100 * Limits.ofCount(0).upper() / bees;
            var none = new NotEnoughData("dates with mites: none were found on any");
            Result bound =
                    new Bound(
                            Side.AT_MOST,
                            limit,
                            List.of(
                                    "No mites on any date; over all dates together, mites per 100 bees."));
            return new ColonyTrend(none, none, Optional.of(bound), Optional.empty(), inOrder);
        }
        Optional<NotEnoughData> needs = needs(inOrder, dates, mites);
        if (dates == 2 && fit.isPresent()) {
            return new ColonyTrend(
                    TwoDates.growth(inOrder),
                    new NotEnoughData("at least " + MIN_DATES + " dates (now 2)"),
                    Optional.empty(),
                    fit,
                    inOrder);
        }
        if (needs.isPresent() || fit.isEmpty()) {
            Result refusal =
                    needs.orElseGet(() -> new NotEnoughData("mites on dates that lie apart"));
            return new ColonyTrend(refusal, refusal, Optional.empty(), fit, inOrder);
        }
        return new ColonyTrend(
                growth(fit.get()), doubling(fit.get()), Optional.empty(), fit, inOrder);
    }

    /** Two washes of one day say how far counts scatter, and nothing about time: they are one date. */
    private static long dates(List<Sample> samples) {
        return samples.stream().mapToLong(Sample::day).distinct().count();
    }

    private static Optional<NotEnoughData> needs(List<Sample> samples, long dates, long mites) {
        List<String> needs = new ArrayList<>();
        if (dates < MIN_DATES) {
            needs.add("at least " + MIN_DATES + " dates (now " + dates + ")");
        }
        if (mites < MIN_MITES) {
            needs.add("at least " + MIN_MITES + " mites in all (now " + mites + ")");
        }
        long counted = dates(samples.stream().filter(s -> s.mites() > 0).toList());
        if (counted < 2) {
            needs.add("mites on at least 2 dates (now " + counted + ")");
        }
        return needs.isEmpty()
                ? Optional.empty()
                : Optional.of(new NotEnoughData(String.join(", ", needs)));
    }

    private static Result growth(GrowthFit fit) {
        List<String> remarks = new ArrayList<>();
        if (fit.phi().orElse(1) > 1) {
            remarks.add(
                    String.format(
                            Locale.ROOT,
                            "Counts scatter %.1f times as much as chance in counting about the line; the"
                                    + " interval is widened for it.",
                            fit.phi().orElse(1)));
        }
        Limits limits = fit.growthLimits();
        if (limits.lower() < 0 && limits.upper() > 0) {
            remarks.add("Neither growth nor decline is shown.");
        }
        return estimate(fit.growth(), limits, remarks);
    }

    private static Result doubling(GrowthFit fit) {
        Limits slope = fit.slopeLimits();
        double ln2 = Math.log(2);
        if (slope.lower() > 0) {
            return estimate(
                    fit.doublingWeeks(),
                    new Limits(ln2 / slope.upper(), ln2 / slope.lower()),
                    List.of("Weeks to double."));
        }
        if (slope.upper() < 0) {
            return estimate(
                    -fit.doublingWeeks(),
                    new Limits(-ln2 / slope.lower(), -ln2 / slope.upper()),
                    List.of("Weeks to halve: the infestation falls."));
        }
        return new NotEnoughData(
                "more dates or larger samples: not determined, neither growth nor decline is shown");
    }

    private static Result estimate(double value, Limits limits, List<String> remarks) {
        return Double.isFinite(value)
                ? new Estimate(
                        value,
                        Math.min(limits.lower(), value),
                        Math.max(limits.upper(), value),
                        remarks)
                : new NotEnoughData("dates that lie further apart", remarks);
    }

    /**
     * The week at which the line meets a threshold, looked for at most one observed span ahead.
     *
     * @param threshold mites per 100 bees, above 0
     */
    public Result crossing(double threshold) {
        return crossing(threshold, week -> String.format(Locale.ROOT, "week %.1f", week));
    }

    /**
     * As {@link #crossing(double)}.
     *
     * @param naming how a week is called in remarks, such as its date
     */
    public Result crossing(double threshold, DoubleFunction<String> naming) {
        if (!(threshold > 0 && Double.isFinite(threshold))) {
            throw new IllegalArgumentException(
                    "threshold " + threshold + ": expected mites per 100 bees, above 0");
        }
        long dates = dates(samples);
        if (!(growth instanceof Estimate) || fit.isEmpty() || dates < MIN_DATES) {
            return growth instanceof NotEnoughData refusal
                    ? refusal
                    : new NotEnoughData("at least " + MIN_DATES + " dates (now " + dates + ")");
        }
        return Crossing.of(fit.get(), samples, threshold, naming);
    }

    /**
     * The fitted line at the given weeks, for a chart; weeks more than one observed span after the
     * last sample are left out, as no projection reaches there.
     */
    public List<Point> line(double[] weeks) {
        List<Point> points = new ArrayList<>();
        if (fit.isPresent()) {
            for (double week : weeks) {
                if (week <= Crossing.horizon(samples)) {
                    Limits band = fit.get().band(week);
                    points.add(
                            new Point(
                                    week, fit.get().infestation(week), band.lower(), band.upper()));
                }
            }
        }
        return points;
    }
}
