package org.evenwash.logger.report;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.evenwash.logger.report.Block.Cell;
import org.evenwash.logger.report.Block.Column;
import org.evenwash.logger.report.Block.Fact;
import org.evenwash.logger.report.Block.Heading;
import org.evenwash.logger.report.Block.Paragraph;
import org.evenwash.logger.report.Block.Tone;
import org.evenwash.logger.store.Calibration;
import org.evenwash.logger.store.Json;
import org.evenwash.logger.store.RecipeVersion;
import org.evenwash.logger.wash.Workplace;

/** One calibration with its readings, its picture and what came out. */
final class CalibrationReport {
    private static final int ID_SHOWN = 8;

    private final Workplace place;
    private final Calibration one;
    private final KeptCalibration kept;
    private final Wording wording;
    private final List<Block> blocks = new ArrayList<>();

    private CalibrationReport(Workplace place, Calibration one, Wording wording) {
        this.place = place;
        this.one = one;
        this.kept = KeptCalibration.of(one, wording);
        this.wording = wording;
    }

    static Draft of(Workplace place, UUID id, Wording wording) {
        Calibration one = place.calibrating().shelf().calibration(id);
        return new CalibrationReport(place, one, wording).draft();
    }

    private Draft draft() {
        if (one.simulated()) {
            blocks.add(new Paragraph(wording.say("report.simulated"), Tone.NOTE));
        }
        blocks.add(new Heading(wording.say("wash.result")));
        blocks.add(new Paragraph(kept.says(), Tone.PLAIN));
        kept.remarks().forEach(remark -> blocks.add(new Paragraph(remark, Tone.MUTED)));
        facts();
        kept.picture().ifPresent(picture -> blocks.add(new Block.Chart(picture)));
        readings();
        blocks.add(new Heading(wording.say("report.method")));
        blocks.add(
                new Block.Facts(
                        List.of(
                                new Fact(
                                        wording.say("report.method.version"),
                                        one.methodVersion() + "; " + Method.program()))));
        return new Draft(
                wording.say(one.kind()) + ": " + one.name(),
                wording.say(
                        "calibration.made",
                        wording.dayAndTime(one.madeAt()),
                        wording.name(one.madeBy())),
                blocks,
                Map.of(
                        "calibration",
                        one.id(),
                        "readings",
                        Json.read(one.inputsJson(), JsonNode.class)),
                Map.of("calibration", Json.read(one.resultJson(), JsonNode.class)),
                one.methodVersion(),
                null,
                null,
                basis());
    }

    private void facts() {
        List<Fact> facts = new ArrayList<>();
        facts.add(new Fact(wording.say("calibration.standing"), standing()));
        if (one.benchId() != null) {
            facts.add(new Fact(wording.field("benchId"), one.benchId()));
        }
        if (one.recipeId() != null) {
            facts.add(
                    new Fact(
                            wording.field("recipe"),
                            wording.say("study.recipe", one.recipeId(), one.recipeVersion())));
        }
        for (RecipeVersion recipe : place.calibrating().shelf().recipesOf(one.id())) {
            facts.add(
                    new Fact(
                            wording.say("report.recipe"),
                            recipe.sheet().name() + " " + recipe.sheet().version()));
        }
        blocks.add(new Block.Facts(facts));
    }

    private String standing() {
        if (one.inUse()) {
            return wording.say("calibration.used", wording.day(one.usedFrom()));
        }
        return one.usedFrom() == null
                ? wording.say("calibration.never")
                : wording.say(
                        "calibration.ended",
                        wording.day(one.usedFrom()),
                        wording.day(one.usedUntil()));
    }

    private void readings() {
        if (kept.readings().isEmpty()) {
            return;
        }
        boolean washes = kept.washes().size() == kept.readings().size();
        List<Column> columns = new ArrayList<>();
        kept.headings().forEach(heading -> columns.add(new Column(heading, true, 1)));
        if (washes) {
            columns.add(new Column(wording.field("washId"), false, 1));
        }
        List<List<Cell>> rows = new ArrayList<>();
        for (int i = 0; i < kept.readings().size(); i++) {
            List<Cell> row = new ArrayList<>();
            kept.readings().get(i).forEach(number -> row.add(Cell.of(number)));
            if (washes) {
                row.add(Cell.of(kept.washes().get(i).toString().substring(0, ID_SHOWN)));
            }
            rows.add(row);
        }
        blocks.add(new Heading(wording.say("calibration.readings", rows.size())));
        blocks.add(new Block.Table(columns, rows));
    }

    private Set<String> basis() {
        Set<String> basis = new HashSet<>();
        basis.add(one.id().toString());
        kept.washes().forEach(wash -> basis.add(wash.toString()));
        return basis;
    }
}
