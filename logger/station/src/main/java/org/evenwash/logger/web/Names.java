package org.evenwash.logger.web;

import java.util.HashMap;
import java.util.Map;
import java.util.UUID;
import org.evenwash.logger.store.Operator;
import org.evenwash.logger.wash.Workplace;

/** Values of corrections as a person reads them. */
final class Names {
    private Names() {}

    /** The people of a workplace by id. */
    static Map<UUID, String> of(Workplace place) {
        Map<UUID, String> names = new HashMap<>();
        for (Operator operator : place.yard().operators()) {
            names.put(operator.id(), operator.name());
        }
        return names;
    }

    /** A person's name in place of an id, words in place of nothing. */
    static String orWords(String value, Map<UUID, String> names, String nothing) {
        if (value == null || value.isEmpty()) {
            return nothing;
        }
        try {
            return names.getOrDefault(UUID.fromString(value), value);
        } catch (IllegalArgumentException e) {
            // Not an id: the value itself is what a person reads.
            return value.endsWith(".0") ? value.substring(0, value.length() - 2) : value;
        }
    }
}
