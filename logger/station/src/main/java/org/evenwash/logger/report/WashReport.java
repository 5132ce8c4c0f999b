package org.evenwash.logger.report;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultText;
import org.evenwash.analysis.numeric.Level;
import org.evenwash.analysis.protocol.Check;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.report.Block.Cell;
import org.evenwash.logger.report.Block.Column;
import org.evenwash.logger.report.Block.Fact;
import org.evenwash.logger.report.Block.Heading;
import org.evenwash.logger.report.Block.Paragraph;
import org.evenwash.logger.report.Block.Tone;
import org.evenwash.logger.store.Correction;
import org.evenwash.logger.store.MiteCount;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.wash.PassSheet;
import org.evenwash.logger.wash.WashSheet;
import org.evenwash.logger.wash.Workplace;

/** One wash from sample to result, with its evidence. */
final class WashReport {
    private final Workplace place;
    private final WashSheet sheet;
    private final Wording wording;
    private final Readings readings;
    private final List<Block> blocks = new ArrayList<>();

    private WashReport(Workplace place, WashSheet sheet, Wording wording) {
        this.place = place;
        this.sheet = sheet;
        this.wording = wording;
        this.readings = new Readings(wording);
    }

    static Draft of(Workplace place, UUID washId, Wording reader) {
        WashSheet sheet = place.sheets().of(washId);
        return new WashReport(place, sheet, reader.at(sheet.apiary().zone())).draft();
    }

    private Draft draft() {
        sheet.flags().forEach(flag -> blocks.add(new Paragraph(flag, Tone.NOTE)));
        blocks.add(new Heading(wording.say("wash.result")));
        blocks.addAll(readings.large(sheet.infestation(), sheet.verdict(), beneath()));
        corrected();
        counts();
        sample();
        new CycleBlocks(place, wording).addTo(blocks, sheet.passes());
        protocol();
        new PhotoBlocks(place, wording).addTo(blocks, sheet.wash().id());
        corrections();
        Verdict verdict = sheet.verdict();
        String protocol = sheet.protocol().name() + ", " + sheet.protocol().edition();
        blocks.addAll(
                Method.blocks(
                        Method.INFESTATION,
                        protocol,
                        verdict == null ? null : readings.threshold(verdict.threshold()),
                        wording));
        return new Draft(
                wording.say("wash.title", sheet.colony().name()),
                sheet.apiary().name() + ", " + wording.day(sheet.wash().sampledOn()),
                blocks,
                inputs(),
                results(),
                Method.INFESTATION,
                protocol,
                verdict == null ? null : Readings.edition(verdict.threshold()),
                basis());
    }

    /** What the other washes of that day add, and what would settle it. */
    private List<String> beneath() {
        List<String> words = new ArrayList<>();
        WashSheet.Together together = sheet.together();
        if (together != null) {
            words.add(DayWords.withOthers(together, wording));
            if (together.verdict() != null) {
                words.add(
                        together.verdict().call().shape()
                                + " "
                                + wording.decimals(together.verdict().words()));
            }
        }
        DayWords.settle(sheet, wording).ifPresent(words::add);
        return words;
    }

    /** Beside the infestation as washed, which thresholds are meant for. */
    private void corrected() {
        Result corrected = sheet.calibrations().corrected();
        if (corrected == null) {
            return;
        }
        blocks.add(
                new Paragraph(
                        wording.say("use.corrected")
                                + " "
                                + wording.decimals(ResultText.of(corrected, Quantity.INFESTATION))
                                + ". "
                                + wording.say(
                                        "use.recovery", sheet.calibrations().recovery().name())
                                + ", "
                                + wording.say("use.age", sheet.calibrations().recoveryAge_days())
                                + ".",
                        Tone.PLAIN));
        corrected
                .remarks()
                .forEach(one -> blocks.add(new Paragraph(wording.decimals(one), Tone.MUTED)));
    }

    private void counts() {
        blocks.add(new Heading(wording.say("wash.counts")));
        List<List<Cell>> rows = new ArrayList<>();
        for (PassSheet pass : sheet.passes()) {
            for (MiteCount count : pass.counts()) {
                rows.add(
                        List.of(
                                Cell.of(wording.say(pass.pass().kind())),
                                Cell.of(wording.say("wash.mites", count.mites())),
                                Cell.of(kind(count)),
                                Cell.of(wording.name(count.countedBy())),
                                Cell.of(wording.dayAndTime(count.countedAt()))));
            }
        }
        if (rows.isEmpty()) {
            blocks.add(new Paragraph(wording.say("wash.counts.none"), Tone.MUTED));
            return;
        }
        blocks.add(
                new Block.Table(
                        List.of(
                                new Column(wording.say("report.pass"), false, 1.1),
                                new Column(wording.say("report.counted"), false, 0.9),
                                new Column(wording.say("report.kind"), false, 1),
                                new Column(wording.field("countedBy"), false, 1.5),
                                new Column(wording.say("report.when"), false, 1.4)),
                        rows));
    }

    private String kind(MiteCount count) {
        return count.recount()
                ? wording.say(count.blind() ? "wash.recount" : "wash.recount.open")
                : wording.say("report.firstCount");
    }

    private void sample() {
        Wash wash = sheet.wash();
        String open = wording.say("wash.notStated");
        List<Fact> facts = new ArrayList<>();
        facts.add(new Fact(wording.field("bees"), bees(wash, open)));
        if (sheet.calibrations().bees() != null) {
            facts.add(new Fact(wording.field("calibrationId"), sheet.calibrations().bees().name()));
        }
        if (wash.sampleMass_g() != null) {
            facts.add(
                    new Fact(
                            wording.field("sampleMass_g"),
                            wording.number(wash.sampleMass_g(), 1) + " g"));
        }
        facts.add(new Fact(wording.field("frame"), wording.say(wash.frame())));
        facts.add(new Fact(wording.field("queenCheck"), wording.say(wash.queenCheck())));
        facts.add(
                new Fact(
                        wording.field("operatorId"),
                        sheet.operator() == null ? open : sheet.operator().name()));
        facts.add(
                new Fact(
                        wording.field("rinses"),
                        wash.rinses() == null ? open : wash.rinses().toString()));
        facts.addAll(HandlingFacts.of(wash.handling(), wording));
        if (!wash.remarks().isEmpty()) {
            facts.add(new Fact(wording.field("remarks"), wash.remarks()));
        }
        blocks.add(new Heading(wording.say("wash.sample")));
        blocks.add(new Block.Facts(facts));
    }

    private String bees(Wash wash, String open) {
        if (wash.bees() == null) {
            return open;
        }
        String bees = wording.amount(wash.bees()) + " (" + wording.say(wash.beeMeasure());
        if (wash.beesLogSd() != null) {
            String range =
                    wording.number(wash.bees() * Math.exp(-Level.Z * wash.beesLogSd()), 0)
                            + "–"
                            + wording.number(wash.bees() * Math.exp(Level.Z * wash.beesLogSd()), 0);
            bees += ", " + wording.say("wash.bees.range", range);
        }
        return bees + ")";
    }

    private void protocol() {
        blocks.add(new Heading(wording.say("wash.checks")));
        blocks.add(
                new Paragraph(
                        sheet.protocol().name() + ", " + sheet.protocol().edition(), Tone.MUTED));
        List<String> sources =
                sheet.checks().stream().map(one -> one.source().toString()).distinct().toList();
        List<List<Cell>> rows = new ArrayList<>();
        for (Check check : sheet.checks()) {
            rows.add(
                    List.of(
                            Cell.of(check.point().title()),
                            Cell.of(shape(check.outcome()) + " " + check.outcome().word()),
                            Cell.of(check.evidence()),
                            Cell.of(
                                    check.asked()
                                            + " ["
                                            + (1 + sources.indexOf(check.source().toString()))
                                            + "]")));
        }
        blocks.add(
                new Block.Table(
                        List.of(
                                new Column(wording.say("report.point"), false, 1.1),
                                new Column(wording.say("report.outcome"), false, 0.85),
                                new Column(wording.say("report.evidence"), false, 1.7),
                                new Column(wording.say("report.asked"), false, 1.4)),
                        rows));
        blocks.add(new Block.Lines(sources, true));
    }

    private static String shape(Check.Outcome outcome) {
        return switch (outcome) {
            case PASS -> "●";
            case CAUTION -> "◐";
            case FAIL -> "▲";
            case NOT_ASSESSED -> "○";
        };
    }

    private void corrections() {
        List<List<Cell>> rows = new ArrayList<>();
        for (Correction one : sheet.corrections()) {
            if (one.earlier() != null && !one.earlier().equals("NOT_STATED")) {
                rows.add(
                        List.of(
                                Cell.of(one.subject() + ", " + one.field()),
                                Cell.of(
                                        wording.corrected(one.earlier())
                                                + " → "
                                                + wording.corrected(one.later())),
                                Cell.of(one.why()),
                                Cell.of(
                                        wording.name(one.correctedBy())
                                                + ", "
                                                + wording.dayAndTime(one.correctedAt()))));
            }
        }
        blocks.add(new Heading(wording.say("wash.corrections")));
        if (rows.isEmpty()) {
            blocks.add(new Paragraph(wording.say("wash.corrections.none"), Tone.MUTED));
            return;
        }
        blocks.add(
                new Block.Table(
                        List.of(
                                new Column(wording.say("report.what"), false, 1),
                                new Column(wording.say("report.change"), false, 1.2),
                                new Column(wording.say("report.why"), false, 1.4),
                                new Column(wording.say("report.who"), false, 1.2)),
                        rows));
    }

    private Map<String, Object> inputs() {
        Map<String, Object> inputs = new LinkedHashMap<>();
        inputs.put("wash", sheet.wash());
        inputs.put("colony", sheet.colony());
        inputs.put("apiary", sheet.apiary());
        inputs.put("passes", sheet.passes());
        inputs.put("corrections", sheet.corrections());
        return inputs;
    }

    private Map<String, Object> results() {
        Map<String, Object> results = new LinkedHashMap<>();
        results.put("infestation", Readings.json(sheet.infestation(), Quantity.INFESTATION));
        if (sheet.calibrations().corrected() != null) {
            results.put(
                    "corrected",
                    Readings.json(sheet.calibrations().corrected(), Quantity.INFESTATION));
        }
        if (sheet.verdict() != null) {
            results.put("verdict", sheet.verdict().call().word());
            results.put("threshold", sheet.verdict().threshold());
        }
        if (sheet.together() != null) {
            results.put("together", together(sheet.together()));
        }
        results.put(
                "checks",
                sheet.checks().stream()
                        .map(
                                one ->
                                        Map.of(
                                                "point", one.point().title(),
                                                "outcome", one.outcome().word(),
                                                "asked", one.asked(),
                                                "evidence", one.evidence(),
                                                "source", one.source().toString()))
                        .toList());
        return results;
    }

    private static Map<String, Object> together(WashSheet.Together together) {
        Map<String, Object> json = new LinkedHashMap<>();
        json.put("washes", together.day().washes());
        json.put("infestation", Readings.json(together.day().infestation(), Quantity.INFESTATION));
        if (together.verdict() != null) {
            json.put("verdict", together.verdict().call().word());
        }
        return json;
    }

    private Set<String> basis() {
        Set<String> basis = new HashSet<>();
        if (sheet.together() != null) {
            sheet.together().day().washes().forEach(one -> basis.add(one.id().toString()));
        }
        basis.add(sheet.wash().id().toString());
        for (PassSheet pass : sheet.passes()) {
            if (pass.spirit() != null) {
                basis.add(pass.spirit().id().toString());
            }
        }
        return basis;
    }
}
