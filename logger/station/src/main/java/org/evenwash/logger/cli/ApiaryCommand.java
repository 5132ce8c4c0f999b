package org.evenwash.logger.cli;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultJson;
import org.evenwash.analysis.apiary.Apiary;
import org.evenwash.analysis.apiary.ColoniesOver;
import org.evenwash.analysis.apiary.ColonyWash;
import org.evenwash.analysis.infestation.Infestation;
import org.evenwash.analysis.recovery.PredictiveBeta;
import org.evenwash.analysis.recovery.RecountSummary;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.logger.chart.IntervalRows;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

@Command(
        name = "apiary",
        header = "A whole apiary from some of its colonies.",
        description = {
            "What washes of some colonies say of the whole apiary: the mean infestation, and how many",
            "colonies may be over a threshold."
        })
final class ApiaryCommand extends Analysis {
    private static final List<Column> COLUMNS =
            List.of(
                    Column.required("mites", "mites counted, from 0; one row a colony"),
                    Column.required("bees", "bees in the sample; decimals where estimated"),
                    Column.optional("colony", "name of the colony; the line number without"));

    /** Keeps a product such as 3 · 300 / 100 from falling short of its whole value. */
    private static final double ROUNDING = 1e-9;

    @Mixin private CsvInput input;
    @Mixin private ThresholdChoice threshold;
    @Mixin private RecoverySource recovery;

    @Option(
            names = "--colonies",
            paramLabel = "N",
            description = "All colonies of the apiary, washed or not. Must be given.")
    private Integer colonies;

    private record Row(String colony, ColonyWash wash) {}

    @Override
    List<Column> columns() {
        return COLUMNS;
    }

    @Override
    List<String> examples() {
        return List.of(
                "apiary --example > apiary.csv",
                "apiary apiary.csv --colonies 24 --threshold 3 --chart apiary.png",
                "recovery --example > recovery.csv",
                "apiary apiary.csv --colonies 24 --recovery-from recovery.csv");
    }

    @Override
    Report report() {
        if (!input.given()) {
            throw wrong("Give a file of washes, or - for standard input.");
        }
        if (colonies == null) {
            throw wrong("Give --colonies, the number of all colonies in the apiary.");
        }
        CsvTable table = input.table(COLUMNS);
        List<Row> rows =
                table.read(
                        row ->
                                new Row(
                                        row.has("colony")
                                                ? row.text("colony")
                                                : "line " + row.line(),
                                        new ColonyWash(row.count("mites"), row.positive("bees"))));
        refuseTwiceWashed(rows);
        if (rows.size() > colonies || colonies > ColoniesOver.MOST_COLONIES) {
            throw wrong(
                    "--colonies "
                            + colonies
                            + ": the file has "
                            + rows.size()
                            + " washed colonies; expected as many or more, at most "
                            + ColoniesOver.MOST_COLONIES
                            + ".");
        }
        List<ColonyWash> washes = rows.stream().map(Row::wash).toList();
        Report report = new Report(name());
        report.json("input", table.facts()).json("colonies", colonies).json("washed", rows.size());
        report.line("Washes", table.words() + "; " + colonies + " colonies in all");
        Result mean = Apiary.mean(washes, colonies);
        report.result("mean", "Mean of all colonies", mean, Quantity.INFESTATION);
        report.answered(mean);
        if (mean instanceof Result.Estimate) {
            report.remark("The mean is as washed, not corrected for recovery.");
        }
        if (recovery.given()) {
            corrected(report, washes);
        }
        threshold.per100().ifPresent(t -> over(report, rows, t));
        byColony(report, rows);
        draw(report, rows, mean, threshold.per100());
        return report;
    }

    private static void refuseTwiceWashed(List<Row> rows) {
        List<String> names = rows.stream().map(Row::colony).toList();
        for (String name : names) {
            if (names.indexOf(name) != names.lastIndexOf(name)) {
                throw new BadInput(
                        "The colony "
                                + name
                                + " stands in two rows; give one row a colony (add up the mites and"
                                + " the bees of two washes of one day).");
            }
        }
    }

    private void corrected(Report report, List<ColonyWash> washes) {
        RecountSummary summary = recovery.summary(input);
        report.json("recovery", RecoverySource.json(summary));
        report.line("Recovery", RecoverySource.words(summary));
        Optional<PredictiveBeta> beta = PredictiveBeta.from(summary);
        if (beta.isPresent()) {
            report.result(
                    "meanCorrected",
                    "Mean, corrected",
                    Apiary.meanCorrected(washes, colonies, beta.get()),
                    Quantity.INFESTATION);
        } else {
            report.remark("Recovery too variable or unknown: the mean was not corrected.");
        }
    }

    private void over(Report report, List<Row> rows, Threshold chosen) {
        double limit = chosen.per100Bees().orElseThrow();
        int over = (int) rows.stream().filter(row -> reaches(row.wash(), limit)).count();
        report.json("threshold", ThresholdChoice.json(chosen));
        report.json("washedAtOrOver", over);
        report.blank().line("Threshold", ThresholdChoice.words(chosen));
        report.line("Washed, at it or over", over + " of " + rows.size());
        report.result(
                "atLeastOver",
                "Of all " + colonies,
                Apiary.atLeastOver(over, rows.size(), colonies),
                Quantity.COLONIES);
        report.result(
                "atMostOver",
                "",
                Apiary.atMostOver(over, rows.size(), colonies),
                Quantity.COLONIES);
        report.remark(
                "Each bound alone holds with 95 %, if the washed colonies were drawn at random.");
        report.remark(Words.GUIDANCE_ONLY);
    }

    /** A reading at the threshold counts as reached, as it does for the chance of misreading. */
    private static boolean reaches(ColonyWash wash, double limit) {
        return wash.mites() >= limit * wash.bees() / 100 - ROUNDING;
    }

    private static void byColony(Report report, List<Row> rows) {
        TextTable table = new TextTable("colony", "mites", "bees", "per 100 bees", "95 % interval");
        List<Map<String, Object>> json = new ArrayList<>();
        for (Row row : rows) {
            Result each = Infestation.counted(row.wash().mites(), row.wash().bees());
            table.row(
                    row.colony(),
                    String.valueOf(row.wash().mites()),
                    Decimals.plain(row.wash().bees()),
                    Cells.value(each, Quantity.INFESTATION),
                    Cells.interval(each, Quantity.INFESTATION));
            Map<String, Object> one = new LinkedHashMap<>();
            one.put("colony", row.colony());
            one.put("mites", row.wash().mites());
            one.put("bees", row.wash().bees());
            one.put("infestation", ResultJson.of(each, Quantity.INFESTATION));
            json.add(one);
        }
        report.json("washes", json);
        report.blank().table(table);
    }

    private static void draw(
            Report report, List<Row> rows, Result mean, Optional<Threshold> chosen) {
        if (rows.size() >= IntervalRows.MOST_ROWS) {
            report.noChart(
                    "a chart holds "
                            + (IntervalRows.MOST_ROWS - 1)
                            + " colonies, the file has "
                            + rows.size());
            return;
        }
        List<IntervalRows.Row> shown = new ArrayList<>();
        for (Row row : rows) {
            shown.add(
                    new IntervalRows.Row(
                            row.colony(),
                            Infestation.counted(row.wash().mites(), row.wash().bees())));
        }
        shown.add(new IntervalRows.Row("mean of all", mean, true));
        report.picture(
                () ->
                        IntervalRows.infestations(
                                "Mites per 100 bees, with 95 % intervals",
                                shown, Words.ticks(chosen)));
    }
}
