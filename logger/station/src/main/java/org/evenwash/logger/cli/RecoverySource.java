package org.evenwash.logger.cli;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.evenwash.analysis.recovery.PredictiveBeta;
import org.evenwash.analysis.recovery.RecountSummary;
import org.evenwash.analysis.recovery.WashPair;
import picocli.CommandLine.Option;

/** A calibration from second washes, to correct other washes by. */
final class RecoverySource {
    static final Column FIRST = Column.required("first_wash_mites", "mites of the first wash");
    static final Column SECOND =
            Column.required("second_wash_mites", "mites that a second wash of the same bees found");

    @Option(
            names = "--recovery-from",
            paramLabel = "FILE",
            description =
                    "Correct for the recovery found in FILE: a CSV file with the columns"
                            + " first_wash_mites and second_wash_mites, a wash a row. The second wash is"
                            + " taken to have brought off all that was left.")
    private String file;

    boolean given() {
        return file != null;
    }

    RecountSummary summary(CsvInput input) {
        CsvTable table = input.other(file, List.of(FIRST, SECOND));
        return RecountSummary.of(table.read(RecoverySource::pair));
    }

    static WashPair pair(CsvRow row) {
        return new WashPair(row.count("first_wash_mites"), row.count("second_wash_mites"));
    }

    /** The recovery of one new wash, for people. */
    static String words(RecountSummary summary) {
        String washes =
                summary.washes()
                        + (summary.washes() == 1 ? " wash with " : " washes with ")
                        + summary.mites()
                        + " mites";
        Optional<PredictiveBeta> beta = PredictiveBeta.from(summary);
        return beta.map(
                        b ->
                                Decimals.percent(b.mean())
                                        + " expected of a new wash (95 %: "
                                        + Decimals.percent(b.limits().lower())
                                        + " to "
                                        + Decimals.percent(b.limits().upper())
                                        + "), from "
                                        + washes)
                .orElse("too variable or unknown, from " + washes);
    }

    static Map<String, Object> json(RecountSummary summary) {
        Map<String, Object> json = new LinkedHashMap<>();
        json.put("washes", summary.washes());
        json.put("mites", summary.mites());
        PredictiveBeta.from(summary)
                .ifPresent(
                        beta -> {
                            json.put("newWashMean", beta.mean());
                            json.put("newWashLower", beta.limits().lower());
                            json.put("newWashUpper", beta.limits().upper());
                            json.put("betaA", beta.a());
                            json.put("betaB", beta.b());
                        });
        return json;
    }
}
