package org.evenwash.logger.web;

import java.util.HashMap;
import java.util.Map;
import java.util.UUID;
import org.evenwash.logger.store.Operator;
import org.evenwash.logger.store.SpiritBatch;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.Ids;

/** Values of corrections as a person reads them. */
final class Names {
    /** Enums (and yes or no) whose values corrections hold, as the bundle names them. */
    private static final String[] FAMILIES = {"Frame", "QueenCheck", "BeeMeasure", "answer"};

    private Names() {}

    /** The people and the spirit of a workplace by id. */
    static Map<UUID, String> of(Workplace place) {
        Map<UUID, String> names = new HashMap<>();
        for (Operator operator : place.yard().operators()) {
            names.put(operator.id(), operator.name());
        }
        for (SpiritBatch batch : place.spirit().batches()) {
            names.put(batch.id(), batch.name());
        }
        return names;
    }

    /** A name in place of an id, words in place of nothing or of a constant. */
    static String orWords(String value, Map<UUID, String> names, Texts texts) {
        if (value == null || value.isEmpty()) {
            return texts.say("correction.nothing");
        }
        for (String family : FAMILIES) {
            if (texts.has(family + "." + value)) {
                return texts.say(family + "." + value);
            }
        }
        if (value.matches("[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")) {
            UUID id = UUID.fromString(value);
            return names.getOrDefault(id, Ids.shown(id));
        }
        return value.endsWith(".0") ? value.substring(0, value.length() - 2) : value;
    }
}
