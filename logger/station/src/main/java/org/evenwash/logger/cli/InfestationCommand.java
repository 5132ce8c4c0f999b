package org.evenwash.logger.cli;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Require;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.ResultJson;
import org.evenwash.analysis.infestation.BeesInSample;
import org.evenwash.analysis.infestation.Infestation;
import org.evenwash.analysis.recovery.RecountSummary;
import org.evenwash.analysis.threshold.MoreBees;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.chart.IntervalBar;
import org.evenwash.logger.chart.IntervalBar.Tick;
import org.evenwash.logger.chart.IntervalRows;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

@Command(
        name = "infestation",
        header = "Mites per 100 bees, from washes.",
        description = {
            "Mites per 100 bees with a 95 %% interval, from one wash or a file of washes;",
            "corrected for recovery, and compared with a threshold, where you ask for it."
        })
final class InfestationCommand extends Analysis {
    private static final List<Column> COLUMNS =
            List.of(
                    Column.required("mites", "mites counted, from 0"),
                    Column.required("bees", "bees in the sample; decimals where estimated"),
                    Column.optional("wash", "a name for the row; its line number without"),
                    Column.optional(
                            "bees_log_sd",
                            "SD of ln(bees) of an estimate, as bee-count prints it"));

    @Mixin private CsvInput input;
    @Mixin private ThresholdChoice threshold;
    @Mixin private RecoverySource recovery;

    @Option(names = "--mites", paramLabel = "N", description = "Mites counted in one wash.")
    private Integer mites;

    @Option(names = "--bees", paramLabel = "N", description = "Bees in that wash.")
    private Double bees;

    @Option(
            names = "--bees-log-sd",
            paramLabel = "SD",
            description = "SD of ln(bees) if they were estimated, as bee-count prints it.")
    private Double beesLogSd;

    /**
     * One wash and all that can be said of it.
     *
     * @param line in the file; 0 without a file
     */
    private record Row(
            String name,
            long line,
            int mites,
            BeesInSample bees,
            Result asWashed,
            Optional<Result> corrected,
            Optional<Verdict> verdict) {
        /** Nobody counts a part of a bee. */
        boolean estimated() {
            return bees.logSd() > 0 || bees.number() != Math.rint(bees.number());
        }
    }

    @Override
    List<Column> columns() {
        return COLUMNS;
    }

    @Override
    List<String> examples() {
        return List.of(
                "infestation --mites 2 --bees 300 --threshold usda-tucson",
                "infestation --example > washes.csv",
                "infestation washes.csv --threshold 3 --chart washes.svg",
                "recovery --example > recovery.csv",
                "infestation washes.csv --recovery-from recovery.csv --json");
    }

    @Override
    Report report() {
        Optional<Threshold> chosen = threshold.threshold();
        Optional<RecountSummary> calibration =
                recovery.given() ? Optional.of(recovery.summary(input)) : Optional.empty();
        Report report = new Report(name());
        List<Row> rows = new ArrayList<>();
        if (input.given()) {
            if (mites != null || bees != null || beesLogSd != null) {
                throw wrong("Give either a file or --mites and --bees, not both.");
            }
            CsvTable table = input.table(COLUMNS);
            rows.addAll(table.read(row -> row(row, calibration, chosen)));
            report.json("input", table.facts());
            report.line("Washes", table.words());
        } else {
            rows.add(fromOptions(calibration, chosen));
        }
        facts(report, calibration, chosen);
        if (input.given()) {
            many(report, rows);
        } else {
            one(report, rows.get(0));
        }
        report.json("washes", rows.stream().map(InfestationCommand::json).toList());
        report.enoughData(rows.stream().anyMatch(r -> !(r.asWashed() instanceof NotEnoughData)));
        draw(report, rows, chosen);
        return report;
    }

    private Row fromOptions(Optional<RecountSummary> calibration, Optional<Threshold> chosen) {
        if (mites == null || bees == null) {
            throw wrong("Give a file, or both --mites and --bees.");
        }
        Require.count("--mites", mites);
        Require.positive("--bees", bees);
        return row("", 0, mites, bees, Optional.ofNullable(beesLogSd), calibration, chosen);
    }

    private static Row row(
            CsvRow row, Optional<RecountSummary> calibration, Optional<Threshold> chosen) {
        String name = row.has("wash") ? row.text("wash") : "line " + row.line();
        Optional<Double> logSd =
                row.has("bees_log_sd")
                        ? Optional.of(row.between("bees_log_sd", 0, 10, "a number from 0 to 10"))
                        : Optional.empty();
        return row(
                name,
                row.line(),
                row.count("mites"),
                row.positive("bees"),
                logSd,
                calibration,
                chosen);
    }

    private static Row row(
            String name,
            long line,
            int mites,
            double bees,
            Optional<Double> logSd,
            Optional<RecountSummary> calibration,
            Optional<Threshold> chosen) {
        BeesInSample sample = new BeesInSample(bees, logSd.orElse(0.0));
        Result asWashed =
                logSd.isPresent()
                        ? Infestation.estimated(mites, sample)
                        : Infestation.counted(mites, bees);
        return new Row(
                name,
                line,
                mites,
                sample,
                asWashed,
                calibration.map(c -> Infestation.corrected(mites, sample, c)),
                Verdict.of(chosen, asWashed));
    }

    private static void facts(
            Report report, Optional<RecountSummary> calibration, Optional<Threshold> chosen) {
        calibration.ifPresent(
                c -> {
                    report.json("recovery", RecoverySource.json(c));
                    report.line("Recovery", RecoverySource.words(c));
                });
        chosen.ifPresent(
                t -> {
                    report.json("threshold", ThresholdChoice.json(t));
                    report.line("Threshold", ThresholdChoice.words(t));
                });
    }

    private static void one(Report report, Row row) {
        report.line("Infestation", Words.infestation(row.asWashed()));
        report.remarks(row.asWashed());
        row.corrected()
                .ifPresent(
                        c -> {
                            report.line("Corrected for recovery", Words.infestation(c));
                            report.remarks(c);
                        });
        row.verdict()
                .ifPresent(
                        v -> {
                            report.line("Verdict", v.call().shape() + " " + v.words());
                            moreBees(row).ifPresent(more -> report.line("", more.words()));
                            report.remark(Words.GUIDANCE_ONLY);
                        });
    }

    private static void many(Report report, List<Row> rows) {
        boolean corrected = rows.get(0).corrected().isPresent();
        boolean judged = rows.get(0).verdict().isPresent();
        List<String> headings =
                new ArrayList<>(List.of("wash", "mites", "bees", "per 100 bees", "95 % interval"));
        if (corrected) {
            headings.addAll(List.of("corrected", "95 % interval"));
        }
        if (judged) {
            headings.addAll(List.of("against the threshold", "more bees needed"));
        }
        TextTable table = new TextTable(headings.toArray(new String[0]));
        for (Row row : rows) {
            List<String> cells = new ArrayList<>();
            cells.add(row.name());
            cells.add(String.valueOf(row.mites()));
            cells.add(Decimals.plain(row.bees().number()) + (row.estimated() ? " ~" : ""));
            cells.add(Cells.value(row.asWashed(), Quantity.INFESTATION));
            cells.add(Cells.interval(row.asWashed(), Quantity.INFESTATION));
            row.corrected()
                    .ifPresent(
                            c -> {
                                cells.add(Cells.value(c, Quantity.INFESTATION));
                                cells.add(Cells.interval(c, Quantity.INFESTATION));
                            });
            row.verdict()
                    .ifPresent(
                            v -> {
                                cells.add(v.call().shape() + " " + v.call().word());
                                cells.add(moreBees(row).map(InfestationCommand::cell).orElse(""));
                            });
            table.row(cells.toArray(new String[0]));
            report.remarks(row.asWashed());
            row.corrected().ifPresent(report::remarks);
        }
        report.blank().table(table);
        if (rows.stream().anyMatch(Row::estimated)) {
            report.line("~ estimated bees");
        }
        if (judged) {
            report.remark(MoreBees.REPEATED_LOOKS).remark(Words.GUIDANCE_ONLY);
        }
    }

    /** What would settle an undecided wash; empty for any other. */
    private static Optional<MoreBees> moreBees(Row row) {
        boolean undecided =
                row.verdict().filter(v -> v.call() == Verdict.Call.UNDECIDED).isPresent();
        if (!undecided) {
            return Optional.empty();
        }
        double limit = row.verdict().orElseThrow().threshold().per100Bees().orElseThrow();
        return Optional.of(
                MoreBees.toSettle(row.mites(), row.bees().number(), row.estimated(), limit));
    }

    private static String cell(MoreBees more) {
        boolean count = more instanceof MoreBees.Count;
        if (more.moreBees().isEmpty()) {
            return count ? "count the bees" : "more than 3000";
        }
        return "about " + more.moreBees().get() + (count ? ", counted" : "");
    }

    private static Map<String, Object> json(Row row) {
        Map<String, Object> json = new LinkedHashMap<>();
        if (row.line() > 0) {
            json.put("wash", row.name());
            json.put("line", row.line());
        }
        json.put("mites", row.mites());
        json.put("bees", row.bees().number());
        json.put("beesLogSd", row.bees().logSd());
        json.put("beesEstimated", row.estimated());
        json.put("infestation", ResultJson.of(row.asWashed(), Quantity.INFESTATION));
        row.corrected()
                .ifPresent(c -> json.put("corrected", ResultJson.of(c, Quantity.INFESTATION)));
        row.verdict()
                .ifPresent(
                        v -> {
                            json.put("verdict", v.call().word());
                            json.put("verdictText", v.words());
                            moreBees(row).ifPresent(more -> json.put("moreBees", more.words()));
                            moreBees(row)
                                    .flatMap(MoreBees::moreBees)
                                    .ifPresent(bees -> json.put("moreBeesNumber", bees));
                        });
        return json;
    }

    /**
     * A threshold is meant for counts as washed (decision 24), so a chart with one leaves out what was
     * corrected.
     */
    private void draw(Report report, List<Row> rows, Optional<Threshold> chosen) {
        List<Tick> ticks = Words.ticks(chosen);
        if (!input.given()) {
            drawOne(report, rows.get(0), ticks);
            return;
        }
        if (rows.size() > IntervalRows.MOST_ROWS) {
            report.noChart(
                    "a chart holds "
                            + IntervalRows.MOST_ROWS
                            + " washes, the file has "
                            + rows.size());
            return;
        }
        boolean corrected = ticks.isEmpty() && rows.get(0).corrected().isPresent();
        String title =
                "Mites per 100 bees"
                        + (corrected ? ", corrected for recovery, " : " as washed, ")
                        + "with 95 % intervals";
        report.picture(
                () ->
                        IntervalRows.infestations(
                                title,
                                rows.stream()
                                        .map(
                                                r ->
                                                        new IntervalRows.Row(
                                                                r.name(),
                                                                corrected
                                                                        ? r.corrected()
                                                                                .orElseThrow()
                                                                        : r.asWashed()))
                                        .toList(),
                                ticks));
    }

    private static void drawOne(Report report, Row row, List<Tick> ticks) {
        if (row.asWashed() instanceof NotEnoughData) {
            return;
        }
        if (ticks.isEmpty() && row.corrected().isPresent()) {
            List<IntervalRows.Row> both =
                    List.of(
                            new IntervalRows.Row("as washed", row.asWashed()),
                            new IntervalRows.Row("corrected", row.corrected().get()));
            report.picture(
                    () ->
                            IntervalRows.infestations(
                                    "Mites per 100 bees, with 95 % intervals", both, ticks));
            return;
        }
        report.picture(
                () ->
                        IntervalBar.draw(
                                        row.asWashed(),
                                        ticks,
                                        IntervalBar.Size.LARGE,
                                        OptionalDouble.empty())
                                .orElseThrow());
    }
}
