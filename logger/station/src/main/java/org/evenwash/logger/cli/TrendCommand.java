package org.evenwash.logger.cli;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.ResultText;
import org.evenwash.analysis.infestation.PoissonRate;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.trend.ColonyTrend;
import org.evenwash.analysis.trend.Sample;
import org.evenwash.logger.chart.TrendChart;
import org.evenwash.logger.wash.ResultJson;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;

@Command(
        name = "trend",
        header = "One colony over time, and when it meets a threshold.",
        description = {
            "How fast one colony's infestation grows, when it doubles, and when it meets a threshold.",
            "Every event (treatment, new queen, split, merge) begins a stretch of its own."
        })
final class TrendCommand extends Analysis {
    private static final List<Column> COLUMNS =
            List.of(
                    Column.required("day", "year-month-day"),
                    Column.required("mites", "mites counted; may be empty in a row with an event"),
                    Column.required("bees", "bees in the sample; likewise"),
                    Column.optional(
                            "event", "what happened that day; the wash of that day is before it"));
    private static final int LINE_POINTS = 60;
    private static final double DAYS_A_WEEK = 7;

    /** How far a line is drawn past where it meets the threshold, against the length of the series. */
    private static final double BEYOND = 0.1;

    /** A limit some centuries ahead is no date to draw. */
    private static final double FURTHEST_WEEK = 50_000;

    @Mixin private CsvInput input;
    @Mixin private ThresholdChoice threshold;

    private record Row(LocalDate day, Optional<Count> count, String event) {}

    private record Count(int mites, double bees) {}

    /** A stretch between two events, and what was found of it. */
    private record Stretch(ColonyTrend trend, Optional<Result> crossing) {}

    @Override
    List<Column> columns() {
        return COLUMNS;
    }

    @Override
    List<String> examples() {
        return List.of(
                "trend --example > trend.csv", "trend trend.csv --threshold 3 --chart trend.png");
    }

    @Override
    Report report() {
        if (!input.given()) {
            throw wrong("Give a file of one colony's washes, or - for standard input.");
        }
        CsvTable table = input.table(COLUMNS);
        List<Row> rows =
                table.read(TrendCommand::row).stream()
                        .sorted(Comparator.comparing(Row::day))
                        .toList();
        List<Row> counted = rows.stream().filter(r -> r.count().isPresent()).toList();
        if (counted.isEmpty()) {
            throw new BadInput("No row has mites and bees; there is nothing to follow.");
        }
        LocalDate start = counted.get(0).day();
        Optional<Threshold> chosen = threshold.per100();
        List<Stretch> stretches = new ArrayList<>();
        for (ColonyTrend trend :
                ColonyTrend.stretches(samples(counted, start), breaks(rows, start))) {
            stretches.add(
                    new Stretch(
                            trend, chosen.map(t -> trend.crossing(t.per100Bees().orElseThrow()))));
        }
        Report report = new Report(name());
        report.json("input", table.facts()).json("weekZero", start.toString());
        report.line("Washes", table.words());
        chosen.ifPresent(
                t -> {
                    report.json("threshold", ThresholdChoice.json(t));
                    report.line("Threshold", ThresholdChoice.words(t));
                    report.remark(Words.GUIDANCE_ONLY);
                });
        List<Map<String, Object>> json = new ArrayList<>();
        for (Stretch stretch : stretches) {
            json.add(stretch(report, stretch, start));
        }
        report.json("stretches", json);
        report.enoughData(
                stretches.stream()
                        .anyMatch(s -> !(s.trend().growth() instanceof Result.NotEnoughData)));
        if (counted.stream()
                .anyMatch(r -> r.count().get().bees() != Math.rint(r.count().get().bees()))) {
            report.remark("Estimated bees were taken as whole numbers, without their uncertainty.");
        }
        draw(report, rows, stretches, start, chosen);
        return report;
    }

    private static Row row(CsvRow row) {
        LocalDate day = row.day("day");
        boolean eventOnly = row.has("event") && !row.has("mites") && !row.has("bees");
        Optional<Count> count =
                eventOnly
                        ? Optional.empty()
                        : Optional.of(
                                new Count(
                                        row.count("mites"),
                                        row.between("bees", 1, 1e9, "a number of bees from 1")));
        return new Row(day, count, row.text("event"));
    }

    private static double week(LocalDate day, LocalDate start) {
        return ChronoUnit.DAYS.between(start, day) / DAYS_A_WEEK;
    }

    private static LocalDate day(double week, LocalDate start) {
        return start.plusDays(Math.round(week * DAYS_A_WEEK));
    }

    private static List<Sample> samples(List<Row> counted, LocalDate start) {
        return counted.stream()
                .map(
                        r ->
                                new Sample(
                                        week(r.day(), start),
                                        r.count().orElseThrow().mites(),
                                        (int) Math.round(r.count().orElseThrow().bees())))
                .toList();
    }

    private static List<Double> breaks(List<Row> rows, LocalDate start) {
        return rows.stream()
                .filter(r -> !r.event().isEmpty())
                .map(r -> week(r.day(), start))
                .toList();
    }

    private static Map<String, Object> stretch(Report report, Stretch stretch, LocalDate start) {
        ColonyTrend trend = stretch.trend();
        List<Sample> samples = trend.samples();
        LocalDate from = day(samples.get(0).week(), start);
        LocalDate to = day(samples.get(samples.size() - 1).week(), start);
        int mites = samples.stream().mapToInt(Sample::mites).sum();
        report.blank()
                .line(
                        from
                                + (from.equals(to) ? "" : " to " + to)
                                + ": "
                                + samples.size()
                                + (samples.size() == 1 ? " wash, " : " washes, ")
                                + mites
                                + " mites");
        Map<String, Object> json = new LinkedHashMap<>();
        json.put("from", from.toString());
        json.put("to", to.toString());
        json.put("washes", samples.size());
        json.put("mites", mites);
        put(report, json, "growth", "  Growth", trend.growth(), Quantity.GROWTH);
        // Its remark only says whether it doubles or halves, and so does the label.
        json.put("doubling", ResultJson.of(trend.doubling(), Quantity.WEEKS));
        report.line("  " + doublingLabel(trend), ResultText.of(trend.doubling(), Quantity.WEEKS));
        trend.infestation()
                .ifPresent(
                        i ->
                                put(
                                        report,
                                        json,
                                        "infestation",
                                        "  Infestation",
                                        i,
                                        Quantity.INFESTATION));
        trend.fit()
                .ifPresent(
                        fit -> {
                            json.put("b0", fit.b0());
                            json.put("b1", fit.b1());
                            fit.phi().ifPresent(phi -> json.put("dispersion", phi));
                        });
        stretch.crossing()
                .ifPresent(
                        crossing -> {
                            json.put("crossingWeek", ResultJson.of(crossing, Quantity.WEEKS));
                            report.line("  At the threshold", days(crossing, start))
                                    .remarks(crossing);
                            if (crossing instanceof Estimate e) {
                                json.put("crossingDay", day(e.value(), start).toString());
                            }
                        });
        return json;
    }

    private static String doublingLabel(ColonyTrend trend) {
        boolean falls = trend.growth() instanceof Estimate e && e.upper() < 0;
        return falls ? "Time to halve" : "Time to double";
    }

    private static void put(
            Report report,
            Map<String, Object> json,
            String key,
            String label,
            Result result,
            Quantity quantity) {
        json.put(key, ResultJson.of(result, quantity));
        report.line(label, ResultText.of(result, quantity)).remarks(result);
    }

    private static String days(Result week, LocalDate start) {
        if (week instanceof Estimate e) {
            String lower =
                    Double.isFinite(e.lower()) ? day(e.lower(), start).toString() : "no limit";
            String upper =
                    Double.isFinite(e.upper()) ? day(e.upper(), start).toString() : "no limit";
            return day(e.value(), start) + " (95 %: " + lower + " to " + upper + ")";
        }
        return week instanceof Bound b
                ? "not before " + day(b.limit(), start)
                : ResultText.of(week, Quantity.WEEKS);
    }

    private static void draw(
            Report report,
            List<Row> rows,
            List<Stretch> stretches,
            LocalDate start,
            Optional<Threshold> chosen) {
        List<TrendChart.Wash> washes = new ArrayList<>();
        List<TrendChart.Mark> marks = new ArrayList<>();
        for (Row row : rows) {
            row.count()
                    .ifPresent(
                            count -> {
                                PoissonRate rate = PoissonRate.of(count.mites(), count.bees());
                                washes.add(
                                        new TrendChart.Wash(
                                                row.day(),
                                                rate.value(),
                                                rate.lower(),
                                                rate.upper()));
                            });
            if (!row.event().isEmpty()) {
                marks.add(new TrendChart.Mark(row.day(), row.event()));
            }
        }
        List<List<TrendChart.Fitted>> lines = new ArrayList<>();
        for (int i = 0; i < stretches.size(); i++) {
            List<TrendChart.Fitted> line = line(stretches.get(i), start, i == stretches.size() - 1);
            if (line.size() > 1) {
                lines.add(line);
            }
        }
        report.chart(
                () ->
                        TrendChart.draw(
                                new TrendChart.Trend(
                                        "Mites per 100 bees over time",
                                        washes,
                                        lines,
                                        chosen.map(
                                                t ->
                                                        new TrendChart.Threshold(
                                                                t.per100Bees().orElseThrow(),
                                                                t.id())),
                                        stretches.stream()
                                                .flatMap(s -> crossing(s, start).stream())
                                                .reduce((earlier, later) -> later),
                                        marks)));
    }

    /** The last line runs on to where it meets the threshold; it is never projected further. */
    private static List<TrendChart.Fitted> line(Stretch stretch, LocalDate start, boolean last) {
        List<Sample> samples = stretch.trend().samples();
        if (stretch.trend().growth() instanceof Result.NotEnoughData) {
            return List.of();
        }
        double from = samples.get(0).week();
        double end = samples.get(samples.size() - 1).week();
        double to =
                last && stretch.crossing().orElse(null) instanceof Estimate e
                        ? Math.max(
                                end, Math.min(horizon(samples), e.value() + BEYOND * (end - from)))
                        : end;
        int days = (int) Math.round((to - from) * DAYS_A_WEEK);
        // Whole days: between them a date cannot be drawn.
        int step = Math.max(1, days / LINE_POINTS);
        double[] weeks =
                IntStream.rangeClosed(0, days / step)
                        .mapToDouble(i -> from + i * step / DAYS_A_WEEK)
                        .toArray();
        return stretch.trend().line(weeks).stream()
                .map(
                        p ->
                                new TrendChart.Fitted(
                                        day(p.week(), start),
                                        p.infestation(),
                                        p.lower(),
                                        p.upper()))
                .toList();
    }

    /** One observed span after the last sample; nothing is projected past it. */
    private static double horizon(List<Sample> samples) {
        double first = samples.get(0).week();
        double last = samples.get(samples.size() - 1).week();
        return last + (last - first);
    }

    private static Optional<TrendChart.Crossing> crossing(Stretch stretch, LocalDate start) {
        if (stretch.crossing().orElse(null) instanceof Estimate e && e.upper() < FURTHEST_WEEK) {
            return Optional.of(
                    new TrendChart.Crossing(
                            day(e.value(), start), day(e.lower(), start), day(e.upper(), start)));
        }
        return Optional.empty();
    }
}
