package org.evenwash.logger.report;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.UUID;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultText;
import org.evenwash.analysis.apiary.ColoniesOver;
import org.evenwash.analysis.apiary.ColonyWash;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.logger.chart.IntervalRows;
import org.evenwash.logger.report.Block.Fact;
import org.evenwash.logger.report.Block.Heading;
import org.evenwash.logger.report.Block.Paragraph;
import org.evenwash.logger.report.Block.Tone;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Reports;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.store.WashLine;
import org.evenwash.logger.wash.Infestations;
import org.evenwash.logger.wash.Refused;
import org.evenwash.logger.wash.SameDay;
import org.evenwash.logger.wash.Workplace;

/** All washes of one apiary on one day, and what they say of the whole apiary. */
final class DayReport {
    private static final double ROUNDING = 1e-9;

    private final Apiary apiary;
    private final LocalDate day;
    private final Wording wording;
    private final Readings readings;
    private final Optional<Threshold> threshold;
    private final List<WashLine> lines;
    private final List<SameDay> judged;
    private final int colonies;
    private final List<Block> blocks = new ArrayList<>();
    private final Map<String, Object> results = new LinkedHashMap<>();

    private DayReport(Workplace place, Apiary apiary, LocalDate day, Wording wording) {
        this.apiary = apiary;
        this.day = day;
        this.wording = wording;
        this.readings = new Readings(wording);
        this.threshold = place.standards().threshold(apiary.id());
        this.lines =
                WashLines.all(place, new WashFilter(apiary.id(), null, day, day)).stream()
                        .sorted(Comparator.comparing(WashLine::colony))
                        .toList();
        this.judged = place.apiaries().on(apiary.id(), day);
        this.colonies = place.yard().colonies(apiary.id()).size();
    }

    static Draft of(Workplace place, UUID apiaryId, LocalDate day, Wording reader) {
        Apiary apiary = place.yard().apiary(apiaryId);
        if (day == null) {
            throw Refused.invalid("day", "is missing", "say on which day the apiary was washed");
        }
        return new DayReport(place, apiary, day, reader.at(apiary.zone())).draft();
    }

    private Draft draft() {
        if (lines.isEmpty()) {
            throw Refused.invalid(
                    "day",
                    day + " has no wash in " + apiary.name(),
                    "choose a day on which it was washed");
        }
        if (lines.stream().anyMatch(WashLine::simulated)) {
            blocks.add(new Paragraph(wording.say("report.simulated"), Tone.NOTE));
        }
        summary();
        picture();
        blocks.add(new Heading(wording.say("nav.washes")));
        blocks.add(new WashTable(wording).of(lines, WashTable.Lead.COLONY, one -> threshold));
        for (SameDay several : judged) {
            if (!several.several()) {
                continue;
            }
            String colony =
                    lines.stream()
                            .filter(line -> several.latest().id().equals(line.id()))
                            .map(WashLine::colony)
                            .findFirst()
                            .orElseThrow();
            blocks.add(
                    new Paragraph(
                            colony + ": " + DayWords.judged(several, threshold, wording),
                            Tone.PLAIN));
        }
        blocks.addAll(
                Method.blocks(
                        Method.INFESTATION + ", " + Method.APIARY,
                        null,
                        threshold.map(readings::threshold).orElse(null),
                        wording));
        return new Draft(
                wording.say("report.day.title", apiary.name()),
                wording.day(day),
                blocks,
                Map.of("apiary", apiary, "day", day, "colonies", colonies, "washes", lines),
                results,
                Method.INFESTATION + ", " + Method.APIARY,
                null,
                threshold.map(Readings::edition).orElse(null),
                basis());
    }

    /** What each colony is judged by, as on its own page. */
    private List<ColonyWash> byColony() {
        Map<UUID, ColonyWash> washes = new LinkedHashMap<>();
        for (SameDay one : judged) {
            washes.put(one.latest().colonyId(), new ColonyWash(one.mites(), one.bees()));
        }
        return List.copyOf(washes.values());
    }

    private void summary() {
        List<ColonyWash> washes = byColony();
        blocks.add(new Heading(wording.say("report.day.summary")));
        List<Fact> facts = new ArrayList<>();
        facts.add(
                new Fact(
                        wording.say("report.day.washed"),
                        wording.say("report.day.washedOf", washes.size(), colonies)));
        if (!washes.isEmpty() && washes.size() <= colonies) {
            Result mean = org.evenwash.analysis.apiary.Apiary.mean(washes, colonies);
            results.put("mean", Readings.json(mean, Quantity.INFESTATION));
            facts.add(
                    new Fact(
                            wording.say("report.day.mean"),
                            wording.decimals(ResultText.of(mean, Quantity.INFESTATION))));
            if (threshold.flatMap(DayReport::limit).isPresent()
                    && colonies <= ColoniesOver.MOST_COLONIES) {
                over(facts, washes, limit(threshold.get()).get());
            }
        }
        blocks.add(new Block.Facts(facts));
        blocks.add(new Paragraph(wording.say("report.day.drawn"), Tone.MUTED));
    }

    private static Optional<Double> limit(Threshold threshold) {
        OptionalDouble limit = threshold.per100Bees();
        return limit.isPresent() ? Optional.of(limit.getAsDouble()) : Optional.empty();
    }

    private void over(List<Fact> facts, List<ColonyWash> washes, double limit) {
        int over =
                (int)
                        washes.stream()
                                .filter(one -> one.mites() >= limit * one.bees() / 100 - ROUNDING)
                                .count();
        Result least =
                org.evenwash.analysis.apiary.Apiary.atLeastOver(over, washes.size(), colonies);
        Result most = org.evenwash.analysis.apiary.Apiary.atMostOver(over, washes.size(), colonies);
        results.put("washedAtOrOver", over);
        results.put("atLeastOver", Readings.json(least, Quantity.COLONIES));
        results.put("atMostOver", Readings.json(most, Quantity.COLONIES));
        facts.add(
                new Fact(
                        wording.say("report.day.over"),
                        wording.say("report.day.overOf", over, washes.size())));
        facts.add(
                new Fact(
                        wording.say("report.day.overAll", colonies),
                        ResultText.of(least, Quantity.COLONIES)
                                + "; "
                                + ResultText.of(most, Quantity.COLONIES)));
    }

    private void picture() {
        List<IntervalRows.Row> rows = new ArrayList<>();
        for (WashLine line : lines) {
            Result result = Infestations.of(line);
            if (!(result instanceof Result.NotEnoughData)) {
                rows.add(new IntervalRows.Row(line.colony(), result));
            }
        }
        if (!rows.isEmpty() && rows.size() <= IntervalRows.MOST_ROWS) {
            blocks.add(
                    new Block.Art(
                            IntervalRows.infestations(
                                    wording.say("report.day.picture"),
                                    rows,
                                    readings.ticks(threshold))));
        }
    }

    private Set<String> basis() {
        Set<String> basis = new HashSet<>();
        basis.add(Reports.day(apiary.id(), day));
        lines.forEach(line -> basis.add(line.id().toString()));
        return basis;
    }
}
