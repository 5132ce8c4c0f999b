package org.evenwash.logger.cli;

import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultText;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.logger.chart.IntervalBar.Tick;

/** Sentences and marks that several commands share. */
final class Words {
    static final String GUIDANCE_ONLY =
            "A threshold is guidance only: the local authority and the label of a treatment come"
                    + " first.";

    private Words() {}

    static String infestation(Result result) {
        return ResultText.of(result, Quantity.INFESTATION);
    }

    /** The chosen threshold as a mark of a chart, if a wash can be compared with it. */
    static List<Tick> ticks(Optional<Threshold> chosen) {
        return chosen.filter(t -> t.per100Bees().isPresent())
                .map(t -> List.of(new Tick(t.per100Bees().getAsDouble(), t.id())))
                .orElse(List.of());
    }
}
