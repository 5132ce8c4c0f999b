package org.evenwash.logger.report;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.trend.DatedStretch;
import org.evenwash.logger.chart.Drawing;
import org.evenwash.logger.report.Block.Cell;
import org.evenwash.logger.report.Block.Column;
import org.evenwash.logger.report.Block.Heading;
import org.evenwash.logger.report.Block.Paragraph;
import org.evenwash.logger.report.Block.Tone;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.store.WashLine;
import org.evenwash.logger.wash.ColonyHistory;
import org.evenwash.logger.wash.SameDay;
import org.evenwash.logger.wash.Workplace;

/** One colony over time: its washes, what happened to it, and where its infestation is going. */
final class ColonyReport {
    private final Workplace place;
    private final Colony colony;
    private final Apiary apiary;
    private final Wording wording;

    private ColonyReport(Workplace place, Colony colony, Apiary apiary, Wording wording) {
        this.place = place;
        this.colony = colony;
        this.apiary = apiary;
        this.wording = wording;
    }

    static Draft of(Workplace place, UUID colonyId, Wording reader) {
        Colony colony = place.yard().colony(colonyId);
        Apiary apiary = place.yard().apiary(colony.apiaryId());
        return new ColonyReport(place, colony, apiary, reader.at(apiary.zone())).draft();
    }

    private Draft draft() {
        List<WashLine> lines = WashLines.all(place, WashFilter.ofColony(colony.id()));
        List<ColonyEvent> events = place.yard().events(colony.id());
        Optional<Threshold> threshold = place.standards().threshold(apiary.id());
        List<Block> blocks = new ArrayList<>();
        if (lines.stream().anyMatch(WashLine::simulated)) {
            blocks.add(new Paragraph(wording.say("report.simulated"), Tone.NOTE));
        }
        Map<String, Object> results = new LinkedHashMap<>();
        ColonyHistory history = place.trends().of(colony.id(), true, wording::day);
        trend(history, blocks, results);
        blocks.add(new Heading(wording.say("colony.washes")));
        if (lines.isEmpty()) {
            blocks.add(new Paragraph(wording.say("colony.none"), Tone.PLAIN));
        } else {
            blocks.add(new WashTable(wording).of(lines, WashTable.Lead.DAY, one -> threshold));
        }
        history.last()
                .filter(SameDay::several)
                .ifPresent(
                        day ->
                                blocks.add(
                                        new Paragraph(
                                                wording.day(day.day())
                                                        + ": "
                                                        + DayWords.judged(day, threshold, wording),
                                                Tone.PLAIN)));
        events(blocks, events);
        blocks.addAll(
                Method.blocks(
                        Method.INFESTATION + ", " + Method.TREND,
                        null,
                        threshold.map(new Readings(wording)::threshold).orElse(null),
                        wording));
        return new Draft(
                wording.say("report.colony.title", colony.name()),
                subtitle(),
                blocks,
                Map.of("colony", colony, "apiary", apiary, "washes", lines, "events", events),
                results,
                Method.INFESTATION + ", " + Method.TREND,
                null,
                threshold.map(Readings::edition).orElse(null),
                basis(lines));
    }

    /** All years: a report is for the file. */
    private void trend(ColonyHistory history, List<Block> blocks, Map<String, Object> results) {
        blocks.add(new Heading(wording.say("trend.title")));
        Optional<Drawing> chart = TrendPicture.of(history, false, wording);
        if (chart.isEmpty()) {
            blocks.add(new Paragraph(wording.say("trend.empty"), Tone.MUTED));
            return;
        }
        blocks.add(new Block.Chart(chart.get()));
        Threshold threshold = history.threshold().orElse(null);
        List<Object> json = new ArrayList<>();
        for (int i = history.stretches().size() - 1; i >= 0; i--) {
            DatedStretch stretch = history.stretches().get(i);
            StretchWords words = StretchWords.of(stretch, threshold, wording);
            blocks.add(
                    new Paragraph(
                            wording.day(words.from())
                                    + " – "
                                    + wording.day(words.to())
                                    + " "
                                    + wording.say("trend.counted", words.washes(), words.mites())
                                    + ". "
                                    + String.join(" ", words.sentences()),
                            Tone.PLAIN));
            words.remarks().forEach(one -> blocks.add(new Paragraph(one, Tone.MUTED)));
            json.add(json(stretch));
        }
        results.put("stretches", json);
        if (history.latest().isEmpty()) {
            blocks.add(new Paragraph(wording.say("trend.broken"), Tone.PLAIN));
        }
        if (history.simulatedLeftOut() > 0) {
            blocks.add(
                    new Paragraph(
                            wording.say("trend.simulated", history.simulatedLeftOut()),
                            Tone.MUTED));
        }
        blocks.add(new Paragraph(wording.say("trend.method"), Tone.MUTED));
    }

    private static Map<String, Object> json(DatedStretch stretch) {
        Map<String, Object> json = new LinkedHashMap<>();
        json.put("from", stretch.from());
        json.put("to", stretch.to());
        json.put("growth", Readings.json(stretch.trend().growth(), Quantity.GROWTH));
        json.put("doubling", Readings.json(stretch.trend().doubling(), Quantity.WEEKS));
        stretch.crossing()
                .ifPresent(one -> json.put("crossing", Readings.json(one, Quantity.WEEKS)));
        return json;
    }

    private String subtitle() {
        return colony.endedOn() == null
                ? apiary.name()
                : apiary.name() + ", " + wording.say("colony.ended", wording.day(colony.endedOn()));
    }

    private void events(List<Block> blocks, List<ColonyEvent> events) {
        blocks.add(new Heading(wording.say("colony.events")));
        if (events.isEmpty()) {
            blocks.add(new Paragraph(wording.say("report.colony.noEvents"), Tone.MUTED));
            return;
        }
        List<List<Cell>> rows = new ArrayList<>();
        for (ColonyEvent event : events) {
            String until = event.untilDay() == null ? "" : " – " + wording.day(event.untilDay());
            rows.add(
                    List.of(
                            Cell.of(wording.day(event.onDay()) + until),
                            Cell.of(wording.say(event.kind())),
                            Cell.of(what(event)),
                            Cell.of(event.remarks())));
        }
        blocks.add(
                new Block.Table(
                        List.of(
                                new Column(wording.say("report.when"), false, 1),
                                new Column(wording.say("report.what"), false, 0.8),
                                new Column(wording.say("report.more"), false, 1.2),
                                new Column(wording.field("remarks"), false, 1.5)),
                        rows));
    }

    private String what(ColonyEvent event) {
        return switch (event.kind()) {
            case RENAME -> event.earlierName() + " → " + event.laterName();
            case MOVE ->
                    place.yard().apiary(event.fromApiaryId()).name()
                            + " → "
                            + place.yard().apiary(event.toApiaryId()).name();
            case SPLIT, MERGE -> place.yard().colony(event.otherColonyId()).name();
            case TREATMENT -> event.substance();
            case REQUEEN, SWARM, DEATH -> "";
        };
    }

    private Set<String> basis(List<WashLine> lines) {
        Set<String> basis = new HashSet<>();
        basis.add(colony.id().toString());
        lines.forEach(line -> basis.add(line.id().toString()));
        return basis;
    }
}
