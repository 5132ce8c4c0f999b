package org.evenwash.logger.web;

import java.util.Map;
import java.util.Optional;
import org.evenwash.analysis.spirit.Dilution;
import org.evenwash.analysis.spirit.FlashPoint;
import org.evenwash.analysis.spirit.Spirit;
import org.evenwash.analysis.spirit.Strength;
import org.evenwash.logger.store.Json;
import org.evenwash.logger.wash.SpiritKinds;
import org.evenwash.logger.wash.SpiritShelf;

/**
 * A batch as it is typed: its strength as measured, or what the label says and how it was thinned.
 * A flash point left open is worked out where the kind is known; of two, the lower one is kept.
 */
final class SpiritForm {
    private static final double MOST_PARTS = 1_000;
    private static final int LONGEST_REMARK = 2_000;

    private SpiritForm() {}

    static SpiritShelf.NewBatch read(Input in) {
        String name = in.text("name", Api.LONGEST_NAME);
        String kind = in.text("kind", Api.LONGEST_NAME);
        Double typed_pctVol = in.optionalNumber("strength_pctVol", 0, 100);
        Double label_pctVol = in.optionalNumber("label_pctVol", 1, 100);
        Double spiritParts = in.optionalNumber("spiritParts", 0.01, MOST_PARTS);
        Double waterParts = in.optionalNumber("waterParts", 0, MOST_PARTS);
        Optional<Spirit> spirit = kind == null ? Optional.empty() : SpiritKinds.of(kind);
        if (label_pctVol != null && kind != null && spirit.isEmpty()) {
            in.mistake("kind", "spirit.kind.unknown");
        }
        Optional<Strength> mixed = Optional.empty();
        String mixing = null;
        if (label_pctVol != null && typed_pctVol == null && spirit.isPresent()) {
            double parts = spiritParts == null ? 1 : spiritParts;
            double water = waterParts == null ? 0 : waterParts;
            Strength label = Strength.ofPercentVol(spirit.get(), label_pctVol);
            Dilution dilution = Dilution.of(label, parts, water);
            mixed = Optional.of(dilution.mixture());
            mixing =
                    Json.write(
                            Map.of(
                                    "label_pctVol", label_pctVol,
                                    "spiritParts", parts,
                                    "waterParts", water,
                                    "contraction_percent", dilution.contraction_percent()));
        } else if (typed_pctVol != null) {
            mixed = spirit.map(one -> Strength.ofPercentVol(one, typed_pctVol));
        }
        return new SpiritShelf.NewBatch(
                name,
                kind,
                typed_pctVol != null ? typed_pctVol : mixed.map(Strength::percentVol).orElse(null),
                lower(in.optionalNumber("flashPoint_C", -50, 200), mixed),
                in.optionalNumber("volume_mL", 1, 1_000_000),
                in.optionalDate("mixedOn"),
                mixing,
                in.optionalText("remarks", LONGEST_REMARK));
    }

    private static Double lower(Double typed_C, Optional<Strength> strength) {
        Double worked_C = strength.flatMap(FlashPoint::of).map(FlashPoint::cautious_C).orElse(null);
        if (typed_C == null || worked_C == null) {
            return typed_C == null ? worked_C : typed_C;
        }
        return Math.min(typed_C, worked_C);
    }
}
