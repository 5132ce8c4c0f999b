package org.evenwash.logger.cli;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.TreeSet;
import java.util.stream.DoubleStream;
import org.evenwash.analysis.apiary.ColoniesOver;
import org.evenwash.analysis.apiary.ColoniesToWash;
import org.evenwash.analysis.apiary.OperatingCharacteristic;
import org.evenwash.analysis.apiary.Precision;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.logger.chart.CharacteristicChart;
import org.evenwash.logger.chart.Scale;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

@Command(
        name = "colonies-to-wash",
        header = "How many colonies to wash for a claim.",
        description = {
            "How many colonies to wash for a claim about the whole apiary; and, with --threshold, how",
            "often one wash reads below it though the colony is over (operating characteristic)."
        })
final class ColoniesToWashCommand extends Analysis {
    private static final int CURVE_POINTS = 161;
    private static final double[] MULTIPLES = {0.25, 0.5, 0.75, 1, 1.5, 2, 3};
    private static final double[] TENTHS = {0, 0.05, 0.1, 0.2, 0.3};

    @Mixin private ThresholdChoice threshold;

    @Option(names = "--colonies", paramLabel = "N", description = "All colonies of the apiary.")
    private Integer colonies;

    @Option(
            names = "--at-most",
            paramLabel = "D",
            description = "Claim: at most D of them are over the threshold. Several without it.")
    private Integer atMost;

    @Option(
            names = "--bees",
            paramLabel = "N",
            defaultValue = "300",
            description = "Bees in a wash; ${DEFAULT-VALUE} unless given.")
    private Double bees;

    @Option(
            names = "--recovery",
            paramLabel = "SHARE",
            description = "Recovery of a wash, above 0 to 1; also draws the wash as read.")
    private Double recovery;

    @Option(
            names = "--variation",
            paramLabel = "CV",
            description =
                    "How much samples of one colony differ beyond counting (coefficient of variation,"
                            + " such as 0.3).")
    private Double variation;

    @Override
    List<String> examples() {
        return List.of(
                "colonies-to-wash --colonies 24",
                "colonies-to-wash --colonies 24 --at-most 3",
                "colonies-to-wash --threshold 3 --bees 300 --recovery 0.9 --chart misread.png");
    }

    @Override
    Report report() {
        if (colonies == null && threshold.threshold().isEmpty()) {
            throw wrong("Give --colonies, or --threshold, or both.");
        }
        check();
        Report report = new Report(name());
        if (colonies != null) {
            plan(report);
        }
        threshold
                .per100()
                .ifPresentOrElse(
                        t -> characteristic(report, t),
                        () -> report.noChart("the chance of misreading needs --threshold"));
        return report;
    }

    private void check() {
        if (colonies != null && (colonies < 1 || colonies > ColoniesOver.MOST_COLONIES)) {
            throw wrong("--colonies: expected 1 to " + ColoniesOver.MOST_COLONIES + ".");
        }
        if (atMost != null && (colonies == null || atMost < 0 || atMost > colonies)) {
            throw wrong("--at-most: expected 0 to the number of --colonies.");
        }
        if (!(bees >= 1 && bees <= 100_000)) {
            throw wrong("--bees: expected 1 to 100000.");
        }
        if (recovery != null && !(recovery > 0 && recovery <= 1)) {
            throw wrong("--recovery: expected a share above 0 and at most 1, such as 0.9.");
        }
        if (variation != null && !(variation > 0 && variation <= 10)) {
            throw wrong("--variation: expected above 0 and at most 10, such as 0.3.");
        }
    }

    private void plan(Report report) {
        report.json("colonies", colonies);
        TextTable table =
                new TextTable(
                        "to claim, with 95 %: at most",
                        "wash, if none of them is over", "if one of them is");
        List<Map<String, Object>> json = new ArrayList<>();
        for (int most : claims()) {
            OptionalInt none = ColoniesToWash.ifNoneIsOver(most, colonies);
            OptionalInt one = ColoniesToWash.ifOneIsOver(most, colonies);
            table.row(
                    most + " of " + colonies + " are over",
                    none.isPresent() ? String.valueOf(none.getAsInt()) : "not possible",
                    one.isPresent() ? String.valueOf(one.getAsInt()) : "not possible");
            Map<String, Object> row = new LinkedHashMap<>();
            row.put("atMost", most);
            row.put("ifNoneIsOver", none.isPresent() ? none.getAsInt() : null);
            row.put("ifOneIsOver", one.isPresent() ? one.getAsInt() : null);
            json.add(row);
        }
        report.json("plan", json);
        report.table(table);
        report.remark(
                "Draw the colonies to wash by lot; the worst-looking ones alone say nothing of the rest.");
        report.remark(
                "The claim is about wash readings. A wash that reads a bad colony as good weakens it; give"
                        + " --threshold to see how often that happens.");
    }

    private List<Integer> claims() {
        if (atMost != null) {
            return List.of(atMost);
        }
        TreeSet<Integer> claims = new TreeSet<>(List.of(0));
        for (double share : TENTHS) {
            claims.add((int) Math.round(share * colonies));
        }
        if (colonies > 1) {
            claims.add(1);
        }
        claims.remove(colonies);
        return List.copyOf(claims);
    }

    private void characteristic(Report report, Threshold chosen) {
        double limit = chosen.per100Bees().orElseThrow();
        report.json("threshold", ThresholdChoice.json(chosen)).json("bees", bees);
        if (colonies != null) {
            report.blank();
        }
        report.line("Threshold", ThresholdChoice.words(chosen));
        List<Reading> readings = readings();
        List<String> headings = new ArrayList<>(List.of("true mites per 100 bees"));
        readings.forEach(reading -> headings.add(reading.name()));
        TextTable table = new TextTable(headings.toArray(new String[0]));
        List<Map<String, Object>> json = new ArrayList<>();
        for (double multiple : MULTIPLES) {
            double rate = multiple * limit;
            List<String> cells = new ArrayList<>(List.of(Decimals.plain(rate)));
            Map<String, Object> row = new LinkedHashMap<>();
            row.put("rate", rate);
            for (Reading reading : readings) {
                double below = reading.of(rate, limit).probabilityBelow();
                cells.add(Decimals.fixed(1, 100 * below) + " %");
                row.put(reading.key(), below);
            }
            table.row(cells.toArray(new String[0]));
            json.add(row);
        }
        report.json("characteristic", json);
        report.blank()
                .line(
                        "Chance that one wash of "
                                + Decimals.plain(bees)
                                + " bees"
                                + (recovery == null
                                        ? ""
                                        : ", " + Decimals.plain(100 * recovery) + " % found,")
                                + " reads below the threshold")
                .table(table);
        Precision.bees(limit, recovery == null ? 1 : recovery, 0.3)
                .ifPresent(
                        n -> {
                            report.json("beesForThirtyPercent", n);
                            report.blank()
                                    .line(
                                            "To know an infestation at the threshold to about ± 30 % takes about "
                                                    + n
                                                    + " bees.");
                        });
        draw(report, readings, limit);
    }

    /** One way to read a wash. */
    private interface Chance {
        OperatingCharacteristic of(double rate, double limit);
    }

    private record Reading(String name, String key, Chance chance) {
        OperatingCharacteristic of(double rate, double limit) {
            return chance.of(rate, limit);
        }
    }

    private List<Reading> readings() {
        double r = recovery == null ? 1 : recovery;
        List<Reading> readings = new ArrayList<>();
        if (recovery == null) {
            readings.add(
                    new Reading(
                            "every mite found",
                            "everyMiteFound",
                            (rate, limit) ->
                                    OperatingCharacteristic.uncorrected(rate, bees, limit, 1)));
        } else {
            readings.add(
                    new Reading(
                            "corrected",
                            "corrected",
                            (rate, limit) ->
                                    OperatingCharacteristic.corrected(rate, bees, limit, r)));
            readings.add(
                    new Reading(
                            "as washed",
                            "asWashed",
                            (rate, limit) ->
                                    OperatingCharacteristic.uncorrected(rate, bees, limit, r)));
        }
        if (variation != null) {
            readings.add(
                    new Reading(
                            "samples differ",
                            "patchyColony",
                            (rate, limit) ->
                                    OperatingCharacteristic.ofPatchyColony(
                                            rate, bees, limit, r, variation)));
        }
        return readings;
    }

    /** The threshold itself is among them: the chance there is what the description tells. */
    private static double[] rates(double limit) {
        return DoubleStream.concat(
                        DoubleStream.of(Scale.steps(0, 3 * limit, CURVE_POINTS)),
                        DoubleStream.of(limit))
                .sorted()
                .toArray();
    }

    private static void draw(Report report, List<Reading> readings, double limit) {
        List<CharacteristicChart.Curve> curves = new ArrayList<>();
        for (Reading reading : readings) {
            List<CharacteristicChart.Step> steps = new ArrayList<>();
            for (double rate : rates(limit)) {
                steps.add(
                        new CharacteristicChart.Step(
                                rate, reading.of(rate, limit).probabilityBelow()));
            }
            curves.add(new CharacteristicChart.Curve(reading.name(), steps));
        }
        report.chart(
                () ->
                        CharacteristicChart.draw(
                                "Chance that one wash reads below the threshold", curves, limit));
    }
}
