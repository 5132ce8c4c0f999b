package org.evenwash.logger.cli;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultJson;
import org.evenwash.analysis.ResultText;
import org.evenwash.analysis.infestation.PoissonRate;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.trend.ColonyTrend;
import org.evenwash.analysis.trend.DatedStretch;
import org.evenwash.logger.chart.TrendChart;
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
    @Mixin private CsvInput input;
    @Mixin private ThresholdChoice threshold;

    private record Row(LocalDate day, Optional<Count> count, String event) {}

    private record Count(int mites, double bees) {}

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
        List<DatedStretch> stretches =
                DatedStretch.of(
                        washes(counted),
                        breaks(rows),
                        chosen.map(Threshold::per100Bees).orElse(OptionalDouble.empty()),
                        LocalDate::toString);
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
        for (DatedStretch stretch : stretches) {
            json.add(stretch(report, stretch));
        }
        report.json("stretches", json);
        report.enoughData(stretches.stream().anyMatch(DatedStretch::told));
        if (counted.stream()
                .anyMatch(r -> r.count().get().bees() != Math.rint(r.count().get().bees()))) {
            report.remark("Estimated bees were taken as whole numbers, without their uncertainty.");
        }
        draw(report, rows, stretches, chosen);
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

    private static List<DatedStretch.Wash> washes(List<Row> counted) {
        return counted.stream()
                .map(
                        r ->
                                new DatedStretch.Wash(
                                        r.day(),
                                        r.count().orElseThrow().mites(),
                                        r.count().orElseThrow().bees()))
                .toList();
    }

    private static List<LocalDate> breaks(List<Row> rows) {
        return rows.stream().filter(r -> !r.event().isEmpty()).map(Row::day).toList();
    }

    private static Map<String, Object> stretch(Report report, DatedStretch stretch) {
        ColonyTrend trend = stretch.trend();
        int washes = trend.samples().size();
        LocalDate from = stretch.from();
        LocalDate to = stretch.to();
        int mites = stretch.mites();
        report.blank()
                .line(
                        from
                                + (from.equals(to) ? "" : " to " + to)
                                + ": "
                                + washes
                                + (washes == 1 ? " wash, " : " washes, ")
                                + mites
                                + " mites");
        Map<String, Object> json = new LinkedHashMap<>();
        json.put("from", from.toString());
        json.put("to", to.toString());
        json.put("washes", washes);
        json.put("mites", mites);
        put(report, json, "growth", "  Growth", trend.growth(), Quantity.GROWTH);
        // Its remark only says whether it doubles or halves, and so does the label.
        json.put("doubling", ResultJson.of(trend.doubling(), Quantity.WEEKS));
        report.line(
                "  " + (stretch.falls() ? "Time to halve" : "Time to double"),
                ResultText.of(trend.doubling(), Quantity.WEEKS));
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
                            report.line("  At the threshold", days(stretch)).remarks(crossing);
                            stretch.meeting()
                                    .ifPresent(
                                            meeting ->
                                                    json.put(
                                                            "crossingDay",
                                                            meeting.day().toString()));
                        });
        return json;
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

    private static String days(DatedStretch stretch) {
        if (stretch.meeting().isPresent()) {
            DatedStretch.Meeting meeting = stretch.meeting().get();
            return meeting.day()
                    + " (95 %: "
                    + meeting.earliest()
                    + " to "
                    + meeting.latest().map(LocalDate::toString).orElse("no limit")
                    + ")";
        }
        return stretch.notBefore()
                .map(day -> "not before " + day)
                .orElseGet(() -> ResultText.of(stretch.crossing().orElseThrow(), Quantity.WEEKS));
    }

    private static void draw(
            Report report,
            List<Row> rows,
            List<DatedStretch> stretches,
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
            TrendChart.line(stretches.get(i), i == stretches.size() - 1).ifPresent(lines::add);
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
                                                .flatMap(s -> TrendChart.crossing(s).stream())
                                                .reduce((earlier, later) -> later),
                                        marks)));
    }
}
