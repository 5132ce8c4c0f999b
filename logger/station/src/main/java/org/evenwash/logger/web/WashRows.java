package org.evenwash.logger.web;

import java.util.List;
import java.util.OptionalDouble;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.store.WashLine;
import org.evenwash.logger.wash.Infestations;

/** Makes rows of a list from what the store knows of each wash. */
final class WashRows {
    private WashRows() {}

    static List<WashRow> of(List<WashLine> lines, Shell page) {
        OptionalDouble end = Pictures.commonEnd(lines.stream().map(Infestations::of).toList());
        return lines.stream().map(line -> row(line, end, page)).toList();
    }

    private static WashRow row(WashLine line, OptionalDouble end, Shell page) {
        Result result = Infestations.of(line);
        Reading reading =
                Reading.of(
                        result,
                        Verdict.Call.NOT_ASSESSED,
                        Pictures.small(result, end),
                        page.formats());
        return new WashRow(
                line.id(),
                line.colony(),
                line.apiary(),
                line.sampledOn(),
                counted(line, page),
                reading,
                line.simulated());
    }

    private static String counted(WashLine line, Shell page) {
        if (line.mites() == null) {
            return null;
        }
        String mites = page.formats().count(line.mites());
        return line.bees() == null
                ? page.t("washes.miteOnly", mites)
                : page.t("washes.mitesInBees", mites, page.formats().bees(line.bees()));
    }
}
