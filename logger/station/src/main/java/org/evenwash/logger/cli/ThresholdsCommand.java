package org.evenwash.logger.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.logger.rules.Rules;
import picocli.CommandLine.Command;

@Command(
        name = "thresholds",
        header = "The published action thresholds.",
        description = {
            "The published action thresholds that ship, each with its unit, region and source. None is",
            "ever chosen for you."
        })
final class ThresholdsCommand extends Analysis {
    @Override
    List<String> examples() {
        return List.of("thresholds");
    }

    @Override
    Report report() {
        Report report = new Report(name());
        TextTable table = new TextTable("id", "value", "unit", "region", "phase");
        List<Map<String, Object>> json = new ArrayList<>();
        for (Threshold threshold : Rules.shippedThresholds().values()) {
            table.row(
                    threshold.id(),
                    Decimals.plain(threshold.value()),
                    threshold.unit().words(),
                    threshold.region(),
                    threshold.phase());
            report.remark(
                    threshold.id()
                            + ": "
                            + threshold.source()
                            + ", "
                            + threshold.source().address()
                            + ".");
            json.add(ThresholdChoice.json(threshold));
        }
        report.json("thresholds", json).table(table).remark(Words.GUIDANCE_ONLY);
        return report.noChart("a list of thresholds has no data to draw");
    }
}
