package org.evenwash.logger.web;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.chart.IntervalBar;
import org.evenwash.logger.store.WashLine;
import org.evenwash.logger.wash.Infestations;
import org.evenwash.logger.wash.Workplace;

/** Makes rows of a list from what the store knows of each wash. */
final class WashRows {
    private final Workplace place;
    private final Shell page;
    private final Map<UUID, Optional<Threshold>> thresholds = new HashMap<>();

    private WashRows(Workplace place, Shell page) {
        this.place = place;
        this.page = page;
    }

    static List<WashRow> of(List<WashLine> lines, Workplace place, Shell page) {
        WashRows rows = new WashRows(place, page);
        OptionalDouble end = IntervalBar.commonEnd(lines.stream().map(Infestations::of).toList());
        return lines.stream().map(line -> rows.row(line, end)).toList();
    }

    private WashRow row(WashLine line, OptionalDouble end) {
        Optional<Threshold> threshold =
                thresholds.computeIfAbsent(line.apiaryId(), place.standards()::threshold);
        Result result = Infestations.of(line);
        Verdict.Call call =
                Verdict.of(threshold, result).map(Verdict::call).orElse(Verdict.Call.NOT_ASSESSED);
        return new WashRow(
                line.id(),
                line.colony(),
                line.apiary(),
                line.sampledOn(),
                counted(line),
                Reading.of(
                        result, call, Pictures.small(result, threshold, end, page), page.formats()),
                line.simulated());
    }

    private String counted(WashLine line) {
        if (line.mites() == null) {
            return null;
        }
        String mites = page.formats().count(line.mites());
        return line.bees() == null
                ? page.t("washes.miteOnly", mites)
                : page.t("washes.mitesInBees", mites, page.formats().amount(line.bees()));
    }
}
