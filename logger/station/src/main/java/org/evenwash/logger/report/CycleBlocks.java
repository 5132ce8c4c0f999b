package org.evenwash.logger.report;

import java.util.ArrayList;
import java.util.List;
import org.evenwash.logger.chart.CyclePicture;
import org.evenwash.logger.report.Block.Fact;
import org.evenwash.logger.report.Block.Heading;
import org.evenwash.logger.report.Block.Paragraph;
import org.evenwash.logger.report.Block.Tone;
import org.evenwash.logger.store.CycleLine;
import org.evenwash.logger.wash.PassSheet;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.ClockState;
import org.evenwash.record.CycleRecord;

/** How a wash was agitated: each pass with its spirit, its cycles as strips and what they departed in. */
final class CycleBlocks {
    private final Workplace place;
    private final Wording wording;

    CycleBlocks(Workplace place, Wording wording) {
        this.place = place;
        this.wording = wording;
    }

    void addTo(List<Block> blocks, List<PassSheet> passes) {
        for (PassSheet pass : passes) {
            blocks.add(
                    new Heading(wording.say("report.agitation", wording.say(pass.pass().kind()))));
            spirit(blocks, pass);
            for (CycleLine cycle : pass.cycles()) {
                cycle(blocks, place.cycles().record(cycle.id()));
            }
            if (pass.soak() != null) {
                blocks.add(
                        new Paragraph(
                                wording.say("report.soak", wording.number(pass.soak().soak_s(), 0)),
                                Tone.PLAIN));
            }
            if (pass.cycles().isEmpty()) {
                Double byHand_s = pass.pass().handAgitation_s();
                blocks.add(
                        new Paragraph(
                                byHand_s == null
                                        ? wording.say("wash.cycle.none")
                                        : wording.say("wash.hand", wording.number(byHand_s, 0)),
                                Tone.PLAIN));
            }
        }
    }

    private void spirit(List<Block> blocks, PassSheet pass) {
        if (pass.spirit() == null) {
            return;
        }
        String name = pass.spirit().name();
        String use =
                pass.spiritUse() == null ? name : wording.say("wash.use", name, pass.spiritUse());
        Double strength = pass.spirit().strength_pctVol();
        blocks.add(
                new Paragraph(
                        wording.say("report.spirit")
                                + ": "
                                + use
                                + (strength == null
                                        ? ""
                                        : ", " + wording.number(strength, 1) + " % vol"),
                        Tone.PLAIN));
    }

    private void cycle(List<Block> blocks, CycleRecord record) {
        blocks.add(new Block.Art(CyclePicture.of(record)));
        List<Fact> facts = new ArrayList<>();
        facts.add(new Fact(wording.say("report.recipe"), recipe(record)));
        facts.add(fact("wash.asked", wording.number(record.plannedAgitation_s(), 0) + " s"));
        facts.add(fact("wash.done", wording.number(record.agitation_s(), 1) + " s"));
        facts.add(fact("wash.tolerance", wording.number(record.withinTolerance_s(), 1) + " s"));
        facts.add(
                fact(
                        "wash.bench",
                        record.benchId()
                                + (record.simulated() ? ", " + wording.say("simulated") : "")));
        boolean unsure = record.clock() != ClockState.SYNCHRONISED;
        facts.add(
                fact(
                        "wash.started",
                        wording.dayAndTime(record.startedAt())
                                + (unsure ? " " + wording.say("wash.unsynchronised") : "")));
        facts.add(
                fact(
                        "wash.ended",
                        wording.say(record.outcome())
                                + (record.endedBy() == null ? "" : ", " + record.endedBy())));
        for (CycleRecord.Interruption cut : record.interruptions()) {
            facts.add(
                    fact(
                            "wash.interruptions",
                            wording.say(
                                    "cycle.cut",
                                    cut.reason(),
                                    wording.number(cut.length_s(), 1),
                                    cut.bout())));
        }
        facts.add(new Fact(wording.say("report.cycle"), record.cycleId().toString()));
        blocks.add(new Block.Facts(facts));
        conformity(blocks, record);
    }

    private String recipe(CycleRecord record) {
        return wording.say("study.recipe", record.recipe().name(), record.recipe().version());
    }

    private Fact fact(String key, String value) {
        return new Fact(wording.say(key), value);
    }

    private void conformity(List<Block> blocks, CycleRecord record) {
        if (record.conformity().conforms()) {
            blocks.add(new Paragraph("● " + wording.say("wash.conforms"), Tone.PLAIN));
            return;
        }
        blocks.add(new Paragraph("▲ " + wording.say("wash.conforms.not"), Tone.PLAIN));
        blocks.add(
                new Block.Lines(
                        record.conformity().points().stream()
                                .filter(point -> !point.ok())
                                .map(point -> point.point() + ": " + point.evidence())
                                .toList(),
                        false));
    }
}
