package org.evenwash.analysis.trend;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.stream.IntStream;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;

/**
 * A stretch of a colony's series by the calendar: its washes, its growth, and the day on which it
 * meets a threshold.
 *
 * @param start the day that is week 0 of {@code trend}
 * @param crossing when the line meets the threshold, in weeks; empty without a threshold
 */
public record DatedStretch(LocalDate start, ColonyTrend trend, Optional<Result> crossing) {
    private static final double DAYS_A_WEEK = 7;
    private static final int LINE_POINTS = 60;

    /** How far a line is drawn past where it meets the threshold, against the length of the series. */
    private static final double BEYOND = 0.1;

    /** A limit some centuries ahead is no date. */
    private static final double FURTHEST_WEEK = 50_000;

    /** A wash on a day. Estimated bees are rounded to whole ones. */
    public record Wash(LocalDate day, int mites, double bees) {}

    /** A point of the fitted line with its 95 % band, mites per 100 bees. */
    public record Point(LocalDate day, double per100Bees, double lower, double upper) {}

    /**
     * When the line meets the threshold.
     *
     * @param latest empty where the limit lies further ahead than any date is worth
     */
    public record Meeting(LocalDate day, LocalDate earliest, Optional<LocalDate> latest) {}

    /**
     * Cuts a series at every break and looks at each stretch by itself.
     *
     * @param washes at least one, in any order
     * @param breaks a wash on the day of a break belongs to the stretch before
     * @param threshold mites per 100 bees, above 0
     * @param naming how a day is called in remarks
     * @return in order of time
     */
    public static List<DatedStretch> of(
            List<Wash> washes,
            Collection<LocalDate> breaks,
            OptionalDouble threshold,
            Function<LocalDate, String> naming) {
        LocalDate start =
                washes.stream().map(Wash::day).min(Comparator.naturalOrder()).orElseThrow();
        List<Sample> samples =
                washes.stream()
                        .map(
                                wash ->
                                        new Sample(
                                                week(wash.day(), start),
                                                wash.mites(),
                                                (int) Math.max(1, Math.round(wash.bees()))))
                        .toList();
        List<Double> cuts = breaks.stream().map(day -> week(day, start)).toList();
        return ColonyTrend.stretches(samples, cuts).stream()
                .map(
                        trend ->
                                new DatedStretch(
                                        start, trend, meets(trend, threshold, start, naming)))
                .toList();
    }

    private static Optional<Result> meets(
            ColonyTrend trend,
            OptionalDouble threshold,
            LocalDate start,
            Function<LocalDate, String> naming) {
        return threshold.isEmpty()
                ? Optional.empty()
                : Optional.of(
                        trend.crossing(
                                threshold.getAsDouble(), week -> naming.apply(day(week, start))));
    }

    private static double week(LocalDate day, LocalDate start) {
        return ChronoUnit.DAYS.between(start, day) / DAYS_A_WEEK;
    }

    private static LocalDate day(double week, LocalDate start) {
        return start.plusDays(Math.round(week * DAYS_A_WEEK));
    }

    /** Day of its first wash. */
    public LocalDate from() {
        return day(trend.samples().get(0).week(), start);
    }

    /** Day of its last wash. */
    public LocalDate to() {
        return day(trend.samples().get(trend.samples().size() - 1).week(), start);
    }

    public int mites() {
        return trend.samples().stream().mapToInt(Sample::mites).sum();
    }

    /** Whether a growth can be told. */
    public boolean told() {
        return !(trend.growth() instanceof Result.NotEnoughData);
    }

    /** Whether the whole interval of the growth lies above 0. */
    public boolean rises() {
        return trend.growth() instanceof Estimate growth && growth.lower() > 0;
    }

    /** Whether the whole interval of the growth lies below 0. */
    public boolean falls() {
        return trend.growth() instanceof Estimate growth && growth.upper() < 0;
    }

    /** Empty unless the crossing has an estimate. */
    public Optional<Meeting> meeting() {
        if (crossing.orElse(null) instanceof Estimate e && e.lower() > -FURTHEST_WEEK) {
            return Optional.of(
                    new Meeting(
                            day(e.value(), start),
                            day(e.lower(), start),
                            e.upper() < FURTHEST_WEEK
                                    ? Optional.of(day(e.upper(), start))
                                    : Optional.empty()));
        }
        return Optional.empty();
    }

    /** The day before which the line does not meet the threshold, where that is all that can be said. */
    public Optional<LocalDate> notBefore() {
        return crossing.orElse(null) instanceof Bound bound
                ? Optional.of(day(bound.limit(), start))
                : Optional.empty();
    }

    /** The last day looked at: one observed span after the last wash. */
    public LocalDate horizon() {
        return day(Crossing.horizon(trend.samples()), start);
    }

    /**
     * The fitted line; empty where no growth can be told.
     *
     * @param onward whether it runs on to where it meets the threshold; it is never projected further
     */
    public List<Point> line(boolean onward) {
        if (!told()) {
            return List.of();
        }
        double from = trend.samples().get(0).week();
        double end = trend.samples().get(trend.samples().size() - 1).week();
        double to =
                onward && crossing.orElse(null) instanceof Estimate e
                        ? Math.max(
                                end,
                                Math.min(
                                        Crossing.horizon(trend.samples()),
                                        e.value() + BEYOND * (end - from)))
                        : end;
        int days = (int) Math.round((to - from) * DAYS_A_WEEK);
        // Whole days: between them a date cannot be drawn.
        int step = Math.max(1, days / LINE_POINTS);
        double[] weeks =
                IntStream.rangeClosed(0, days / step)
                        .mapToDouble(i -> from + i * step / DAYS_A_WEEK)
                        .toArray();
        return trend.line(weeks).stream()
                .map(p -> new Point(day(p.week(), start), p.infestation(), p.lower(), p.upper()))
                .toList();
    }
}
