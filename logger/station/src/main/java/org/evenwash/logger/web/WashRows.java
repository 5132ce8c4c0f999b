package org.evenwash.logger.web;

import java.util.List;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.store.WashLine;
import org.evenwash.logger.wash.Infestations;

/** Makes rows of a list from what the store knows of each wash. */
final class WashRows {
    private WashRows() {}

    static List<WashRow> of(List<WashLine> lines, Shell page) {
        return lines.stream().map(line -> row(line, page)).toList();
    }

    private static WashRow row(WashLine line, Shell page) {
        Reading reading =
                Reading.of(Infestations.of(line), Verdict.Call.NOT_ASSESSED, null, page.formats());
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
