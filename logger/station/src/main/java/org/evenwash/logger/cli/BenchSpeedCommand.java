package org.evenwash.logger.cli;

import java.util.List;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.speed.SpeedBias;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;

@Command(
        name = "bench-speed",
        header = "Whether a bench's displayed speed is true.",
        description = {
            "How far a bench's display reads above an independent tachometer, per cent of the",
            "tachometer, from pairs of readings taken at the same moment."
        })
final class BenchSpeedCommand extends Analysis {
    private static final double FASTEST_RPM = 1e5;
    private static final List<Column> COLUMNS =
            List.of(
                    Column.required("displayed_rpm", "speed that the bench displays"),
                    Column.required("reference_rpm", "speed by the tachometer"));

    @Mixin private CsvInput input;

    @Override
    List<Column> columns() {
        return COLUMNS;
    }

    @Override
    List<String> examples() {
        return List.of("bench-speed --example > bench-speed.csv", "bench-speed bench-speed.csv");
    }

    @Override
    Report report() {
        if (!input.given()) {
            throw wrong("Give a file of readings, or - for standard input.");
        }
        CsvTable table = input.table(COLUMNS);
        List<SpeedBias.Reading> readings =
                table.read(
                        row ->
                                new SpeedBias.Reading(
                                        rpm(row, "displayed_rpm"), rpm(row, "reference_rpm")));
        Result bias = SpeedBias.of(readings);
        Report report = new Report(name());
        report.json("input", table.facts());
        report.line("Readings", table.words());
        report.json("readings", readings.size());
        report.result("bias", "Display above the tachometer", bias, Quantity.SPEED_BIAS);
        report.answered(bias);
        report.noChart("a few readings are seen in their table");
        return report;
    }

    private static double rpm(CsvRow row, String column) {
        return row.between(column, Double.MIN_VALUE, FASTEST_RPM, "a speed above 0");
    }
}
