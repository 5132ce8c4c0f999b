package org.evenwash.logger.web;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.javalin.http.Context;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;

/**
 * What a form or a JSON body says, read field by field. Mistakes are collected and thrown together
 * by {@link #check()}, so that a person sees all of them at once; until then a field with a mistake
 * reads as null or zero.
 */
final class Input {
    private static final ObjectMapper JSON = new ObjectMapper();
    private static final int MOST_FIELDS = 200;

    private final Map<String, String> values;
    private final Texts texts;
    private final List<Problem.Field> mistakes = new ArrayList<>();

    private Input(Map<String, String> values, Texts texts) {
        this.values = values;
        this.texts = texts;
    }

    /**
     * @throws Problem 400 if the body is neither a form nor a JSON object
     */
    static Input of(Context ctx, Texts texts) {
        Map<String, String> values = new HashMap<>();
        if (ctx.isJson()) {
            readJson(ctx.body(), texts, values);
        } else {
            ctx.formParamMap().forEach((name, all) -> values.put(name, String.join(",", all)));
        }
        if (values.size() > MOST_FIELDS) {
            throw Problem.of(400, "body", texts.say("bad.body"), texts.say("bad.body.remedy"));
        }
        values.replaceAll((name, value) -> value.strip());
        return new Input(values, texts);
    }

    /** What the address asks for, read as a form is. */
    static Input ofQuery(Context ctx, Texts texts) {
        Map<String, String> values = new HashMap<>();
        ctx.queryParamMap().forEach((name, all) -> values.put(name, String.join(",", all).strip()));
        return new Input(values, texts);
    }

    private static void readJson(String body, Texts texts, Map<String, String> values) {
        JsonNode node;
        try {
            node = JSON.readTree(body);
        } catch (JsonProcessingException e) {
            throw Problem.of(
                    400,
                    "body",
                    texts.say("bad.json", e.getOriginalMessage()),
                    texts.say("bad.json.remedy"));
        }
        if (node == null || !node.isObject()) {
            throw Problem.of(400, "body", texts.say("bad.body"), texts.say("bad.body.remedy"));
        }
        node.properties()
                .forEach(
                        field -> {
                            JsonNode value = field.getValue();
                            if (!value.isNull()) {
                                values.put(
                                        field.getKey(),
                                        value.isValueNode() ? value.asText() : value.toString());
                            }
                        });
    }

    /** True if anything but white space was given. */
    boolean has(String field) {
        return !values.getOrDefault(field, "").isEmpty();
    }

    /** True if the field was sent, even empty. */
    boolean mentions(String field) {
        return values.containsKey(field);
    }

    String text(String field, int longest) {
        return require(field) ? optionalText(field, longest) : null;
    }

    String optionalText(String field, int longest) {
        String value = values.getOrDefault(field, "");
        if (value.length() > longest) {
            mistake(field, "bad.long", longest, value.length());
            return null;
        }
        return value.isEmpty() ? null : value;
    }

    /** A password as it was typed; without one that is a mistake, and reads as empty. No message ever repeats it. */
    String secret(String field) {
        require(field);
        return values.getOrDefault(field, "");
    }

    /** A new password; where a form has it typed twice, both have to agree. */
    String twice(String field, String again) {
        String password = secret(field);
        if (values.containsKey(again) && !values.get(again).equals(values.get(field))) {
            mistake(again, "bad.twice");
        }
        return password;
    }

    int wholeNumber(String field, int least, int most) {
        Integer value = require(field) ? optionalWholeNumber(field, least, most) : null;
        return value == null ? 0 : value;
    }

    Integer optionalWholeNumber(String field, int least, int most) {
        String value = values.getOrDefault(field, "");
        if (value.isEmpty()) {
            return null;
        }
        try {
            int number = Integer.parseInt(value);
            if (number >= least && number <= most) {
                return number;
            }
            mistake(field, "bad.range", value, least, most);
        } catch (NumberFormatException e) {
            mistake(field, "bad.whole", shortened(value), least, most);
        }
        return null;
    }

    /** A number with a decimal point or a decimal comma. */
    Double optionalNumber(String field, double least, double most) {
        String value = values.getOrDefault(field, "");
        if (value.isEmpty()) {
            return null;
        }
        try {
            double number = Double.parseDouble(value.replace(',', '.'));
            if (number >= least && number <= most) {
                return number;
            }
            mistake(field, "bad.range", shortened(value), least, most);
        } catch (NumberFormatException e) {
            mistake(field, "bad.number", shortened(value), least, most);
        }
        return null;
    }

    double number(String field, double least, double most) {
        Double value = require(field) ? optionalNumber(field, least, most) : null;
        return value == null ? 0 : value;
    }

    UUID id(String field) {
        return require(field) ? optionalId(field) : null;
    }

    UUID optionalId(String field) {
        String value = values.getOrDefault(field, "");
        if (value.isEmpty()) {
            return null;
        }
        try {
            return UUID.fromString(value);
        } catch (IllegalArgumentException e) {
            mistake(field, "bad.id", shortened(value));
            return null;
        }
    }

    /** Ids with commas between, as ticked boxes and JSON arrays alike come; empty if there is none. */
    List<UUID> ids(String field, int longest) {
        List<UUID> ids = new ArrayList<>();
        String list = optionalText(field, longest);
        if (list == null) {
            return ids;
        }
        for (String id : list.replaceAll("[\\[\\]\" ]", "").split(",", -1)) {
            try {
                if (!id.isEmpty()) {
                    ids.add(UUID.fromString(id));
                }
            } catch (IllegalArgumentException e) {
                mistake(field, "bad.id", id);
                return ids;
            }
        }
        return ids;
    }

    LocalDate date(String field) {
        return require(field) ? optionalDate(field) : null;
    }

    LocalDate optionalDate(String field) {
        if (!has(field)) {
            return null;
        }
        try {
            return LocalDate.parse(values.get(field));
        } catch (DateTimeParseException e) {
            mistake(field, "bad.date", shortened(values.get(field)));
            return null;
        }
    }

    <E extends Enum<E>> E choice(String field, Class<E> type) {
        return require(field) ? optionalChoice(field, type) : null;
    }

    <E extends Enum<E>> E optionalChoice(String field, Class<E> type) {
        String value = values.getOrDefault(field, "");
        if (value.isEmpty()) {
            return null;
        }
        for (E one : type.getEnumConstants()) {
            if (one.name().equals(value.toUpperCase(Locale.ROOT))) {
                return one;
            }
        }
        mistake(
                field,
                "bad.choice",
                shortened(value),
                String.join(", ", names(type.getEnumConstants())));
        return null;
    }

    /** The choice made, or {@code otherwise} where none was. */
    <E extends Enum<E>> E choiceOr(String field, E otherwise) {
        E chosen = optionalChoice(field, otherwise.getDeclaringClass());
        return chosen == null ? otherwise : chosen;
    }

    /** An IANA name that this Java knows. */
    String timeZone(String field) {
        String name = text(field, 60);
        if (name != null && !ZoneId.getAvailableZoneIds().contains(name)) {
            mistake(field, "bad.zone", name);
        }
        return name;
    }

    /** A ticked box, or {@code true} in JSON. */
    boolean yes(String field) {
        String value = values.getOrDefault(field, "");
        return value.equals("true") || value.equals("on") || value.equals("yes");
    }

    /** Null where nothing was chosen. */
    Boolean optionalYesNo(String field) {
        String value = values.getOrDefault(field, "");
        if (value.isEmpty()) {
            return null;
        }
        if (yes(field)) {
            return true;
        }
        if (value.equals("false") || value.equals("no")) {
            return false;
        }
        mistake(field, "bad.choice", shortened(value), "true, false");
        return null;
    }

    /** Notes a mistake that only the caller can know of. */
    void mistake(String field, String key, Object... places) {
        Object[] withField = new Object[places.length + 1];
        withField[0] = texts.field(field);
        System.arraycopy(places, 0, withField, 1, places.length);
        mistakes.add(new Problem.Field(field, texts.say(key, withField)));
    }

    /**
     * @throws Problem 422 naming every field with a mistake
     */
    void check() {
        if (!mistakes.isEmpty()) {
            throw Problem.fields(
                    texts.say("bad.fields", mistakes.size()),
                    texts.say("bad.fields.remedy"),
                    mistakes);
        }
    }

    private boolean require(String field) {
        if (has(field)) {
            return true;
        }
        mistake(field, "bad.missing");
        return false;
    }

    private static String shortened(String value) {
        return value.length() <= 40 ? value : value.substring(0, 40) + "…";
    }

    private static List<String> names(Enum<?>[] values) {
        List<String> names = new ArrayList<>();
        for (Enum<?> value : values) {
            names.add(value.name().toLowerCase(Locale.ROOT));
        }
        return names;
    }
}
