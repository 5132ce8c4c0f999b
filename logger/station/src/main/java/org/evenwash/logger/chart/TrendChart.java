package org.evenwash.logger.chart;

import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.evenwash.analysis.trend.DatedStretch;
import org.knowm.xchart.XYChart;
import org.knowm.xchart.style.markers.SeriesMarkers;

/**
 * A colony's infestation over time: each wash with its interval, the fitted growth with its band
 * between treatments, the threshold, when it is crossed, and the treatments as marks.
 */
public final class TrendChart {
    /** One wash in mites per 100 bees with its 95 % interval. */
    public record Wash(LocalDate day, double per100Bees, double lower, double upper) {}

    /** The fitted line at one day with its band, mites per 100 bees. */
    public record Fitted(LocalDate day, double per100Bees, double lower, double upper) {}

    /** Something that happened, such as a treatment; without a name only its line is drawn. */
    public record Mark(LocalDate day, String name) {}

    /** The threshold in mites per 100 bees. */
    public record Threshold(double per100Bees, String name) {}

    /** When the line meets the threshold, past or to come; the limits are days too. */
    public record Crossing(LocalDate day, LocalDate earliest, LocalDate latest) {}

    /** @param lines one for each stretch between breaks, each of at least two days; may be empty */
    public record Trend(
            String title,
            List<Wash> washes,
            List<List<Fitted>> lines,
            Optional<Threshold> threshold,
            Optional<Crossing> crossing,
            List<Mark> marks) {}

    private static final DateTimeFormatter FULL =
            DateTimeFormatter.ofPattern("d MMM yyyy", Locale.ENGLISH);

    /** Longer than a season, days on the axis would be ambiguous. */
    private static final double SEASON_DAYS = 330;

    private final Style.Width width;
    private final DateTimeFormatter dayName;
    private final DateTimeFormatter monthName;

    private TrendChart(Style.Width width, Locale locale) {
        this.width = width;
        this.dayName = DateTimeFormatter.ofPattern("d MMM", locale);
        this.monthName = DateTimeFormatter.ofPattern("MMM yyyy", locale);
    }

    /** The fitted line of a stretch; empty where no growth can be told. */
    public static Optional<List<Fitted>> line(DatedStretch stretch, boolean onward) {
        List<Fitted> line =
                stretch.line(onward).stream()
                        .map(p -> new Fitted(p.day(), p.per100Bees(), p.lower(), p.upper()))
                        .toList();
        return line.size() > 1 ? Optional.of(line) : Optional.empty();
    }

    /** Empty unless the day and both its limits are known. */
    public static Optional<Crossing> crossing(DatedStretch stretch) {
        return stretch.meeting()
                .flatMap(
                        meeting ->
                                meeting.latest()
                                        .map(
                                                latest ->
                                                        new Crossing(
                                                                meeting.day(),
                                                                meeting.earliest(),
                                                                latest)));
    }

    /** @throws IllegalArgumentException if there is no wash to draw */
    public static Drawing draw(Trend trend) {
        return new TrendChart(Style.Width.DESK, Locale.ENGLISH).drawing(trend);
    }

    /** As {@link #draw(Trend)}, with the reader's dates and, for a phone, narrower. */
    public static Drawing draw(Trend trend, boolean narrow, Locale locale) {
        return new TrendChart(narrow ? Style.Width.PHONE : Style.Width.DESK, locale).drawing(trend);
    }

    private Drawing drawing(Trend trend) {
        if (trend.washes().isEmpty()) {
            throw new IllegalArgumentException("a trend needs at least one wash");
        }
        XYChart chart = Style.chart(width, trend.title(), "", "mites per 100 bees");
        double[] days = days(trend);
        DateTimeFormatter onAxis = days[1] - days[0] > SEASON_DAYS ? monthName : dayName;
        chart.getStyler().setXAxisTickLabelsFormattingFunction(day -> dateAt(day, onAxis));
        double top = top(trend) * 1.12;
        int stretch = 0;
        for (List<Fitted> line : trend.lines()) {
            fitted(chart, line, stretch++);
        }
        trend.threshold().ifPresent(t -> threshold(chart, t, days, top));
        trend.crossing()
                .ifPresent(c -> crossing(chart, c, trend.threshold().orElseThrow(), days[1]));
        washes(chart, trend.washes());
        marks(chart, trend.marks(), top, days);
        Style.axes(chart, days[0], days[1], 0, top);
        return new Drawing(chart, words(trend));
    }

    /** Over a few days the axis is divided at half days too, which have no name of their own. */
    private static String dateAt(double day, DateTimeFormatter names) {
        boolean whole = Math.abs(day - Math.rint(day)) < 1e-6;
        return whole ? names.format(LocalDate.ofEpochDay(Math.round(day))) : "";
    }

    private static void fitted(XYChart chart, List<Fitted> line, int stretch) {
        double[] x = line.stream().mapToDouble(f -> f.day().toEpochDay()).toArray();
        String again = stretch == 0 ? "" : " " + (stretch + 1);
        Style.band(
                chart,
                "95 % band" + again,
                x,
                line.stream().mapToDouble(Fitted::lower).toArray(),
                line.stream().mapToDouble(Fitted::upper).toArray());
        Style.line(
                chart,
                "fitted growth, 95 % band" + again,
                x,
                line.stream().mapToDouble(Fitted::per100Bees).toArray(),
                Ink.ACCENT,
                2.5f,
                false);
        if (stretch > 0) {
            chart.getSeries("fitted growth, 95 % band" + again).setShowInLegend(false);
        }
    }

    private void threshold(XYChart chart, Threshold threshold, double[] days, double top) {
        double level = threshold.per100Bees();
        Style.line(chart, "threshold", days, new double[] {level, level}, Ink.INK, 1.5f, true)
                .setShowInLegend(false);
        String name = threshold.name() + " " + Scale.text(level);
        double half = width.shareOf(name) / 2 * (days[1] - days[0]);
        Style.text(chart, name, days[0] + half, level + 0.03 * top);
    }

    /** A limit past the end of the axis is told in the legend and drawn as far as the axis goes. */
    private void crossing(XYChart chart, Crossing crossing, Threshold threshold, double end) {
        double level = threshold.per100Bees();
        Style.line(
                chart,
                "meets it "
                        + dayName.format(crossing.day())
                        + " ("
                        + dayName.format(crossing.earliest())
                        + " to "
                        + dayName.format(crossing.latest())
                        + ")",
                new double[] {
                    crossing.earliest().toEpochDay(),
                    Math.min(end, (double) crossing.latest().toEpochDay())
                },
                new double[] {level, level},
                Ink.INK,
                4,
                false);
        Style.points(
                        chart,
                        "crossing",
                        new double[] {crossing.day().toEpochDay()},
                        new double[] {level},
                        Ink.ACCENT,
                        SeriesMarkers.DIAMOND)
                .setShowInLegend(false);
    }

    private static void washes(XYChart chart, List<Wash> washes) {
        double[] x = washes.stream().mapToDouble(w -> w.day().toEpochDay()).toArray();
        Style.intervals(
                chart,
                "95 % interval",
                x,
                washes.stream().mapToDouble(Wash::lower).toArray(),
                washes.stream().mapToDouble(Wash::upper).toArray(),
                Ink.MUTED);
        Style.points(
                chart,
                "washes, 95 % interval",
                x,
                washes.stream().mapToDouble(Wash::per100Bees).toArray(),
                Ink.INK,
                SeriesMarkers.CIRCLE);
    }

    /** Names right of their line, or left where the next line or the edge is too near. */
    private void marks(XYChart chart, List<Mark> marks, double top, double[] days) {
        List<Mark> inOrder = marks.stream().sorted(Comparator.comparing(Mark::day)).toList();
        for (int i = 0; i < inOrder.size(); i++) {
            double x = inOrder.get(i).day().toEpochDay();
            String name = inOrder.get(i).name();
            Style.upright(chart, x);
            if (name.isEmpty()) {
                continue;
            }
            double width = (this.width.shareOf(name) + 0.01) * (days[1] - days[0]);
            double next = i + 1 < inOrder.size() ? inOrder.get(i + 1).day().toEpochDay() : days[1];
            double beside = x + width < next ? x + width / 2 : x - width / 2;
            // Every other name one row lower, for lines closer than a name on both sides.
            Style.text(chart, name, beside, top * (i % 2 == 0 ? 0.975 : 0.92));
        }
    }

    /**
     * First and last day drawn, a little air on both sides. Whole days: two ends without a name look alike to
     * the library, and it would leave the axis without any.
     */
    private double[] days(Trend trend) {
        List<LocalDate> all = new ArrayList<>();
        trend.washes().forEach(wash -> all.add(wash.day()));
        trend.lines().forEach(line -> line.forEach(fitted -> all.add(fitted.day())));
        trend.marks().forEach(mark -> all.add(mark.day()));
        trend.crossing().ifPresent(crossing -> all.add(shown(trend, crossing)));
        double first = Double.POSITIVE_INFINITY;
        double last = Double.NEGATIVE_INFINITY;
        for (LocalDate day : all) {
            first = Math.min(first, (double) day.toEpochDay());
            last = Math.max(last, (double) day.toEpochDay());
        }
        double span = Math.max(last - first, 1);
        double air = Math.ceil(Math.max(2, span * 0.04));
        double right = last + air;
        for (Mark mark : trend.marks()) {
            double name = (width.shareOf(mark.name()) + 0.04) * (right - first + air);
            right = Math.max(right, mark.day().toEpochDay() + Math.min(name, span));
        }
        return new double[] {first - air, Math.ceil(right)};
    }

    /** The upper limit, but no further than the washes are long after the last of them. */
    private static LocalDate shown(Trend trend, Crossing crossing) {
        List<LocalDate> washed = trend.washes().stream().map(Wash::day).sorted().toList();
        LocalDate last = washed.get(washed.size() - 1);
        LocalDate furthest = last.plusDays(ChronoUnit.DAYS.between(washed.get(0), last));
        LocalDate latest = crossing.latest().isBefore(furthest) ? crossing.latest() : furthest;
        return latest.isBefore(crossing.day()) ? crossing.day() : latest;
    }

    private static double top(Trend trend) {
        // A trend of nothing but zeros still has an axis.
        double top = trend.threshold().map(Threshold::per100Bees).orElse(0.1);
        for (Wash wash : trend.washes()) {
            top = Math.max(top, wash.upper());
        }
        // A projection that shoots up, or its flaring band, must not flatten the data.
        double most = 2 * top;
        for (List<Fitted> line : trend.lines()) {
            for (Fitted fitted : line) {
                top = Math.max(top, Math.min(most, fitted.per100Bees()));
            }
        }
        return top;
    }

    private static String words(Trend trend) {
        StringBuilder words = new StringBuilder();
        for (Wash wash : trend.washes()) {
            words.append(FULL.format(wash.day()))
                    .append(": ")
                    .append(String.format(Locale.ROOT, "%.2f", wash.per100Bees()))
                    .append(" per 100. ");
        }
        trend.marks()
                .forEach(
                        mark ->
                                words.append(mark.name())
                                        .append(" on ")
                                        .append(FULL.format(mark.day()))
                                        .append(". "));
        trend.crossing()
                .ifPresent(
                        c ->
                                words.append("Meets the threshold on ")
                                        .append(FULL.format(c.day()))
                                        .append(", 95 % interval ")
                                        .append(FULL.format(c.earliest()))
                                        .append(" to ")
                                        .append(FULL.format(c.latest()))
                                        .append("."));
        return words.toString().strip();
    }
}
