package org.evenwash.logger.cli;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.recovery.RecountSummary;
import org.evenwash.analysis.recovery.Recovery;
import org.evenwash.analysis.recovery.WashPair;
import org.evenwash.logger.chart.IntervalRows;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

@Command(
        name = "recovery",
        header = "Share of the mites that a wash brings off.",
        description = {
            "The share of the mites that one wash brings off, from second (and third) washes of the",
            "same bees. What the second wash left behind is not known from two counts alone: the two",
            "usual assumptions are shown beside each other."
        })
final class RecoveryCommand extends Analysis {
    private static final List<Column> COLUMNS =
            List.of(
                    RecoverySource.FIRST,
                    RecoverySource.SECOND,
                    Column.optional("third_wash_mites", "mites of a third wash of equal effort"),
                    Column.optional("wash", "a name for the row; its line number without"));

    @Mixin private CsvInput input;

    @Option(
            names = "--second-wash-recovery",
            paramLabel = "SHARE",
            description =
                    "The share of what was left that the second wash brought off, above 0 to 1, if"
                            + " you know it from elsewhere.")
    private Double secondWash;

    @Option(names = "--first", paramLabel = "N", description = "Mites of the first wash.")
    private Integer first;

    @Option(names = "--second", paramLabel = "N", description = "Mites of the second wash.")
    private Integer second;

    @Option(names = "--third", paramLabel = "N", description = "Mites of the third wash.")
    private Integer third;

    private record Row(String name, WashPair pair, int third) {}

    @Override
    List<Column> columns() {
        return COLUMNS;
    }

    @Override
    List<String> examples() {
        return List.of(
                "recovery --first 38 --second 26 --third 12",
                "recovery --example > recovery.csv",
                "recovery recovery.csv --chart recovery.svg");
    }

    @Override
    Report report() {
        if (secondWash != null && !(secondWash > 0 && secondWash <= 1)) {
            throw wrong(
                    "--second-wash-recovery: expected a share above 0 and at most 1, such as 0.7.");
        }
        Report report = new Report(name());
        boolean thirds = third != null;
        List<Row> rows;
        if (input.given()) {
            if (first != null || second != null || third != null) {
                throw wrong("Give either a file or --first and --second, not both.");
            }
            CsvTable table = input.table(COLUMNS);
            thirds = table.has("third_wash_mites");
            boolean readThirds = thirds;
            rows = table.read(row -> row(row, readThirds));
            report.json("input", table.facts());
            report.line("Washes", table.words());
        } else if (first == null || second == null) {
            throw wrong("Give a file, or both --first and --second.");
        } else {
            rows = List.of(new Row("wash", new WashPair(first, second), thirds ? third : 0));
        }
        List<WashPair> pairs = rows.stream().map(Row::pair).toList();
        RecountSummary summary = RecountSummary.of(pairs);
        report.json("washes", summary.washes());
        report.json("mites", summary.mites());
        readings(report, pairs, rows, thirds);
        forVerdict(report, pairs, summary);
        draw(report, rows);
        return report;
    }

    private static Row row(CsvRow row, boolean thirds) {
        return new Row(
                row.has("wash") ? row.text("wash") : "line " + row.line(),
                RecoverySource.pair(row),
                thirds ? row.count("third_wash_mites") : 0);
    }

    private void readings(Report report, List<WashPair> pairs, List<Row> rows, boolean thirds) {
        report.blank().line("Recovery of the first wash, if the second wash brought off");
        Result exhaustive = Recovery.exhaustive(pairs);
        report.result("exhaustive", "  all that was left", exhaustive, Quantity.RECOVERY);
        Result main = exhaustive;
        if (secondWash != null) {
            main = Recovery.withSecondWashOf(secondWash, pairs);
            report.result(
                    "withSecondWash",
                    "  " + Decimals.percent(secondWash) + " of the rest",
                    main,
                    Quantity.RECOVERY);
        }
        report.result(
                "equalEffort",
                "  as large a share again",
                Recovery.equalEffort(pairs),
                Quantity.RECOVERY);
        if (thirds) {
            report.result(
                    "threePasses", "From all three washes", threePasses(rows), Quantity.RECOVERY);
        }
        report.answered(main);
    }

    /** Totals, as the three-wash method takes one series. */
    private static Result threePasses(List<Row> rows) {
        return Recovery.threePasses(
                rows.stream().mapToInt(r -> r.pair().first()).sum(),
                rows.stream().mapToInt(r -> r.pair().second()).sum(),
                rows.stream().mapToInt(Row::third).sum());
    }

    private static void forVerdict(Report report, List<WashPair> pairs, RecountSummary summary) {
        boolean enough = Recovery.isEnoughForVerdict(summary);
        report.json("enoughForVerdict", enough);
        report.json("newWash", RecoverySource.json(summary));
        report.blank().line("Recovery of a new wash", RecoverySource.words(summary));
        if (!enough && Recovery.exhaustiveForVerdict(pairs) instanceof Result.NotEnoughData few) {
            report.remark("Provisional. To correct a verdict by it: needs " + few.needs() + ".");
        }
        if (summary.washes() > 1) {
            Map<String, Object> spread = new LinkedHashMap<>();
            spread.put("dispersion", summary.phiRaw());
            spread.put("p", summary.pearsonP());
            report.json("betweenWashes", spread);
            report.line(
                    "Washes among themselves",
                    "scatter "
                            + Decimals.fixed(1, summary.phiRaw())
                            + " times as much as chance in counting (p = "
                            + Decimals.probability(summary.pearsonP())
                            + ")");
        }
    }

    private static void draw(Report report, List<Row> rows) {
        List<IntervalRows.Row> shown = new ArrayList<>();
        for (Row row : rows) {
            if (row.pair().total() > 0) {
                shown.add(
                        new IntervalRows.Row(row.name(), Recovery.exhaustive(List.of(row.pair()))));
            }
        }
        if (shown.isEmpty() || shown.size() >= IntervalRows.MOST_ROWS) {
            report.noChart(
                    "a chart holds 1 to "
                            + (IntervalRows.MOST_ROWS - 1)
                            + " washes with mites, the file has "
                            + shown.size());
            return;
        }
        shown.add(
                new IntervalRows.Row(
                        "all washes",
                        Recovery.exhaustive(rows.stream().map(Row::pair).toList()),
                        true));
        report.picture(
                () ->
                        IntervalRows.between(
                                "Share of the mites that the first wash brought off",
                                shown,
                                Quantity.RECOVERY,
                                0,
                                100));
    }
}
