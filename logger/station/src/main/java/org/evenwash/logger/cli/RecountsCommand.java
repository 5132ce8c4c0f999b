package org.evenwash.logger.cli;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultJson;
import org.evenwash.analysis.ResultText;
import org.evenwash.analysis.operators.ChartReading;
import org.evenwash.analysis.operators.GaugeVerdict;
import org.evenwash.analysis.operators.OneWayPrecision;
import org.evenwash.analysis.operators.RecountStudy;
import org.evenwash.analysis.operators.RecountStudy.Recount;
import org.evenwash.logger.chart.Drawing;
import org.evenwash.logger.chart.StudyCharts;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;

@Command(
        name = "recounts",
        header = "How closely counts of one catch agree.",
        description = {
            "How closely counts of the same catch agree: of one operator (repeatability) and of",
            "different operators (reproducibility), after ISO 5725-2. Count without knowing the",
            "earlier count."
        })
final class RecountsCommand extends Analysis {
    private static final List<Column> COLUMNS =
            List.of(
                    Column.required("catch", "which catch was counted"),
                    Column.required("operator", "who counted it"),
                    Column.required("mites", "mites counted, from 0"));

    @Mixin private CsvInput input;

    @Override
    List<Column> columns() {
        return COLUMNS;
    }

    @Override
    List<String> examples() {
        return List.of(
                "recounts --example > recounts.csv", "recounts recounts.csv --chart recounts.png");
    }

    @Override
    Report report() {
        if (!input.given()) {
            throw wrong("Give a file of recounts, or - for standard input.");
        }
        CsvTable table = input.table(COLUMNS);
        List<Recount> recounts =
                table.read(
                        row ->
                                new Recount(
                                        row.word("catch", "which catch was counted"),
                                        row.word("operator", "who counted it"),
                                        row.count("mites")));
        RecountStudy study = RecountStudy.of(recounts);
        Report report = new Report(name());
        report.json("input", table.facts());
        report.line("Counts", table.words());
        spread(report, "repeatability", "Repeatability, SD", study.repeatability());
        spread(report, "reproducibility", "Reproducibility, SD", study.reproducibility());
        study.raw().ifPresent(raw -> figures(report, raw));
        report.answered(study.repeatability());
        crossed(report, recounts);
        draw(report, recounts);
        return report;
    }

    private static void spread(Report report, String key, String label, Result sd) {
        report.json(key, ResultJson.of(sd, Quantity.PLAIN));
        String unit = sd instanceof Result.NotEnoughData ? "" : " mites";
        report.line(label, ResultText.of(sd, Quantity.PLAIN) + unit).remarks(sd);
    }

    private static void figures(Report report, OneWayPrecision raw) {
        Map<String, Object> json = new LinkedHashMap<>();
        json.put("mean", raw.mean());
        json.put("repeatabilitySd", raw.repeatability());
        json.put("betweenOperatorsSd", raw.betweenOperators());
        json.put("reproducibilitySd", raw.reproducibility());
        json.put("repeatabilityLimit", raw.repeatabilityLimit());
        json.put("reproducibilityLimit", raw.reproducibilityLimit());
        json.put("p", raw.p());
        report.json("oneWay", json);
        TextTable table = new TextTable("", "SD, mites", "two counts differ by more 1 time in 20");
        table.row(
                "one operator",
                Decimals.fixed(2, raw.repeatability()),
                Decimals.fixed(1, raw.repeatabilityLimit()));
        table.row(
                "different operators",
                Decimals.fixed(2, raw.reproducibility()),
                Decimals.fixed(1, raw.reproducibilityLimit()));
        report.blank().table(table).blank();
        report.line("Mean count", Decimals.fixed(1, raw.mean()));
        report.line("Operators' means differ", "p = " + Decimals.probability(raw.p()));
    }

    /** Where every operator counted every catch equally often, the design tells more. */
    private static void crossed(Report report, List<Recount> recounts) {
        GaugeVerdict gauge =
                GaugeVerdict.of(
                        recounts.stream().mapToDouble(Recount::mites).toArray(),
                        recounts.stream().map(Recount::catchId).toArray(String[]::new),
                        recounts.stream().map(Recount::operator).toArray(String[]::new));
        gauge.study()
                .ifPresent(
                        study -> {
                            Map<String, Object> json = new LinkedHashMap<>();
                            json.put("gauge", ResultJson.of(gauge.gauge(), Quantity.PLAIN));
                            json.put("equipmentSd", study.shown().equipment());
                            json.put("interactionSd", study.shown().interaction());
                            json.put("operatorSd", study.shown().appraiser());
                            json.put("catchSd", study.shown().part());
                            json.put("percentOfSpread", study.shown().percentGauge());
                            json.put("interactionPooled", study.poolsInteraction());
                            report.json("crossed", json);
                            if (gauge.gauge() instanceof Result.Estimate) {
                                report.line(
                                        "All counting, crossed",
                                        ResultText.of(gauge.gauge(), Quantity.PLAIN)
                                                + " mites SD, "
                                                + Decimals.fixed(0, study.shown().percentGauge())
                                                + " % of the whole spread");
                                report.remarks(gauge.gauge());
                            }
                        });
    }

    private static void draw(Report report, List<Recount> recounts) {
        ChartReading reading = ChartReading.ofIndividuals(RecountStudy.fromTheMean(recounts));
        Optional<Drawing> chart =
                StudyCharts.individuals(
                        "Each count against the mean of its catch, in order",
                        "mites above or below the mean",
                        reading);
        if (chart.isEmpty()) {
            report.noChart(reading.remarks().get(0).replaceFirst("\\.$", ""));
        } else {
            report.chart(chart::get);
        }
    }
}
