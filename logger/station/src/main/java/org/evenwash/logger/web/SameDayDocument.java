package org.evenwash.logger.web;

import java.util.LinkedHashMap;
import java.util.Map;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.store.CountedWash;
import org.evenwash.logger.wash.SameDay;

/** The washes of a colony that are judged together, as JSON. */
final class SameDayDocument {
    private SameDayDocument() {}

    /** @param verdict null without a threshold */
    static Map<String, Object> of(SameDay day, Verdict verdict) {
        Map<String, Object> document = new LinkedHashMap<>();
        document.put("sampledOn", day.day());
        document.put("washes", day.washes().stream().map(CountedWash::id).toList());
        document.put("mites", day.mites());
        document.put("bees", day.bees());
        document.put(
                "infestation",
                ResultDocument.of(day.infestation(), Quantity.INFESTATION, "per100Bees"));
        document.put("verdict", verdict == null ? null : verdict.call().word());
        return document;
    }
}
