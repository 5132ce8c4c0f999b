package org.evenwash.logger.cli;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultJson;
import org.evenwash.analysis.ResultText;
import org.evenwash.analysis.operators.Funnel;
import org.evenwash.analysis.operators.OperatorComparison;
import org.evenwash.analysis.operators.OperatorWash;
import org.evenwash.logger.chart.Drawing;
import org.evenwash.logger.chart.StudyCharts;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

@Command(
        name = "operators",
        header = "Whether operators bring off the same share.",
        description = {
            "Whether the operators' first washes bring off the same share of the mites. Washes are",
            "compared only where recipe, bench and day are the same."
        })
final class OperatorsCommand extends Analysis {
    private static final List<Column> COLUMNS =
            List.of(
                    Column.required("operator", "who made the wash"),
                    RecoverySource.FIRST,
                    RecoverySource.SECOND,
                    Column.optional("recipe", "recipe of the wash"),
                    Column.optional("bench", "bench it was made on"),
                    Column.optional(
                            "day", "day it was made; any text that is equal for equal days"));

    @Mixin private CsvInput input;

    @Option(
            names = "--seed",
            paramLabel = "N",
            defaultValue = "1",
            description =
                    "Seed of the random deals; ${DEFAULT-VALUE} unless given. The same seed gives the"
                            + " same p.")
    private long seed;

    @Override
    List<Column> columns() {
        return COLUMNS;
    }

    @Override
    List<String> examples() {
        return List.of(
                "operators --example > operators.csv",
                "operators operators.csv --chart operators.png",
                "operators operators.csv --seed 7 --json");
    }

    @Override
    Report report() {
        if (!input.given()) {
            throw wrong("Give a file of washes, or - for standard input.");
        }
        CsvTable table = input.table(COLUMNS);
        List<OperatorWash> washes = table.read(OperatorsCommand::wash);
        OperatorComparison found = OperatorComparison.of(washes, seed);
        Report report = new Report(name());
        report.json("input", table.facts()).json("seed", seed);
        report.line("Washes", table.words());
        report.json("verdict", word(found.verdict()));
        report.line("Verdict", verdict(found));
        found.needs().ifPresent(needs -> report.json("needs", needs.needs()));
        found.test()
                .ifPresent(
                        test -> {
                            report.line(
                                    "p",
                                    Decimals.probability(test.p())
                                            + " ("
                                            + test.washes()
                                            + " whole washes dealt out anew "
                                            + test.deals()
                                            + " times, seed "
                                            + seed
                                            + ")");
                            Map<String, Object> json = new LinkedHashMap<>();
                            json.put("statistic", test.statistic());
                            json.put("p", test.p());
                            json.put("deals", test.deals());
                            json.put("washes", test.washes());
                            json.put("strata", test.strata());
                            report.json("permutation", json);
                        });
        found.quasiF().ifPresent(f -> report.json("largeSampleP", f.p()));
        report.json("dispersionWithin", found.phiWithin());
        report.json("spread", ResultJson.of(found.spread(), Quantity.PLAIN));
        report.line("SD between operators", spread(found.spread()));
        report.remarks(found.spread());
        found.remarks().forEach(report::remark);
        byOperator(report, found.funnel());
        report.enoughData(found.verdict() != OperatorComparison.Verdict.NOT_ENOUGH_DATA);
        draw(report, found);
        return report;
    }

    private static OperatorWash wash(CsvRow row) {
        return new OperatorWash(
                row.word("operator", "who made the wash"),
                new OperatorWash.Conditions(row.text("recipe"), row.text("bench"), row.text("day")),
                row.count("first_wash_mites"),
                row.count("second_wash_mites"));
    }

    private static String word(OperatorComparison.Verdict verdict) {
        return verdict.name().toLowerCase(Locale.ROOT).replace('_', ' ');
    }

    private static String verdict(OperatorComparison found) {
        return switch (found.verdict()) {
            case DIFFERENCE -> "the shares differ by more than chance";
            case NO_DIFFERENCE_SEEN -> "no difference beyond chance was seen";
            case NOT_ENOUGH_DATA -> "not enough data: needs " + found.needs().orElseThrow().needs();
        };
    }

    /** The spread is a share; people read percentage points. */
    private static String spread(Result spread) {
        if (spread instanceof Result.Estimate e) {
            return points(e.value())
                    + " (95 %: "
                    + points(e.lower())
                    + " to "
                    + points(e.upper())
                    + ") percentage points";
        }
        return spread instanceof Result.Bound b
                ? "at most " + points(b.limit()) + " percentage points"
                : ResultText.of(spread, Quantity.PLAIN);
    }

    private static String points(double share) {
        return Decimals.fixed(1, 100 * share);
    }

    private static void byOperator(Report report, List<Funnel.Point> funnel) {
        TextTable table =
                new TextTable(
                        "operator",
                        "washes",
                        "mites",
                        "off in the first wash",
                        "95 % limits",
                        "place");
        List<Map<String, Object>> json = new ArrayList<>();
        for (Funnel.Point point : funnel) {
            table.row(
                    point.operator(),
                    String.valueOf(point.washes()),
                    Decimals.plain(point.mites()),
                    Decimals.percent(point.share()),
                    points(point.inner().lower()) + "–" + points(point.inner().upper()),
                    switch (point.place()) {
                        case INSIDE -> "inside";
                        case OUTSIDE_INNER -> "outside 95 %";
                        case OUTSIDE_OUTER -> "outside 99.8 %";
                    });
            Map<String, Object> row = new LinkedHashMap<>();
            row.put("operator", point.operator());
            row.put("washes", point.washes());
            row.put("mites", point.mites());
            row.put("share", point.share());
            row.put("expected", point.expected());
            row.put("inner", List.of(point.inner().lower(), point.inner().upper()));
            row.put("outer", List.of(point.outer().lower(), point.outer().upper()));
            row.put("place", point.place().name().toLowerCase(Locale.ROOT).replace('_', ' '));
            json.add(row);
        }
        report.json("operators", json);
        if (!table.isEmpty()) {
            report.blank().table(table);
        }
    }

    private static void draw(Report report, OperatorComparison found) {
        Optional<Drawing> funnel =
                StudyCharts.funnel(
                        found.adjusted()
                                ? "Off at first, as if under equal conditions, by operator"
                                : "Share of the mites off in the first wash, by operator",
                        found);
        if (funnel.isEmpty()) {
            report.noChart("a funnel needs two operators with mites off and mites left on");
        } else {
            report.chart(funnel::get);
        }
    }
}
