package org.evenwash.logger.cli;

import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.beecount.BeeCount;
import org.evenwash.analysis.infestation.BeesInSample;
import org.evenwash.logger.chart.StudyCharts;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

@Command(
        name = "bee-count",
        header = "Bees in a sample, from a fill line or by mass.",
        description = {
            "How many bees a new sample holds, from samples that were counted: at one fill line,",
            "or, with --grams, by mass."
        })
final class BeeCountCommand extends Analysis {
    private static final Column BEES =
            Column.required("bees", "bees counted in a calibration sample");
    private static final Column GRAMS = Column.optional("grams", "its mass; needed with --grams");

    @Mixin private CsvInput input;

    @Option(
            names = "--bees",
            paramLabel = "N,N,…",
            split = ",",
            description = "The counts at one fill line, instead of a file.")
    private List<Double> counts;

    @Option(names = "--grams", paramLabel = "G", description = "Mass of the new sample.")
    private Double newGrams;

    private record Sample(double grams, double bees) {}

    @Override
    List<Column> columns() {
        return List.of(BEES, GRAMS);
    }

    @Override
    List<String> examples() {
        return List.of(
                "bee-count --bees 302,291,315,298,307,288,311,300",
                "bee-count --example > bee-count.csv",
                "bee-count bee-count.csv --grams 36.5 --chart bee-count.png");
    }

    @Override
    Report report() {
        Report report = new Report(name());
        List<Sample> samples = samples(report);
        double[] bees = samples.stream().mapToDouble(Sample::bees).toArray();
        double[] grams = samples.stream().mapToDouble(Sample::grams).toArray();
        report.json("samples", samples.size());
        Result result =
                newGrams == null
                        ? BeeCount.atFillLine(bees)
                        : BeeCount.byMass(grams, bees, newGrams);
        report.result(
                "bees",
                newGrams == null
                        ? "Bees at the fill line"
                        : "Bees in " + Decimals.plain(newGrams) + " g",
                result,
                Quantity.BEES);
        report.answered(result);
        Optional<BeesInSample> sample =
                newGrams == null
                        ? BeeCount.sampleAtFillLine(bees)
                        : BeeCount.sampleByMass(grams, bees, newGrams);
        sample.ifPresent(
                s -> {
                    report.json("beesLogSd", s.logSd());
                    report.line(
                            "For an infestation",
                            "--bees "
                                    + Decimals.fixed(2, s.number())
                                    + " --bees-log-sd "
                                    + Decimals.fixed(5, s.logSd()));
                });
        if (sample.isPresent()) {
            report.chart(
                    () ->
                            (newGrams == null
                                            ? StudyCharts.fillLine("Bees at the fill line", bees)
                                            : StudyCharts.mass(
                                                    "Bees by mass", grams, bees, newGrams))
                                    .orElseThrow());
        } else {
            report.noChart("an interval needs at least 3 samples");
        }
        return report;
    }

    private List<Sample> samples(Report report) {
        if (newGrams != null && !(newGrams > 0)) {
            throw wrong("--grams: expected a mass above 0, not " + Decimals.plain(newGrams) + ".");
        }
        if (input.given() == (counts != null)) {
            throw wrong("Give either a file or --bees with the counts.");
        }
        if (counts != null) {
            if (newGrams != null) {
                throw wrong("--grams needs a file with the columns bees and grams.");
            }
            return counts.stream().map(n -> new Sample(Double.NaN, n)).toList();
        }
        CsvTable table = input.table(List.of(BEES, needed(GRAMS)));
        report.json("input", table.facts());
        report.line("Calibration", table.words());
        return table.read(
                row ->
                        new Sample(
                                newGrams == null ? Double.NaN : row.positive("grams"),
                                row.positive("bees")));
    }

    private Column needed(Column column) {
        return newGrams == null ? column : Column.required(column.name(), column.holds());
    }
}
