package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.Arrays;
import java.util.UUID;

/** What the address asks for. A mistake in it is the page's 404 or a 400 that names the part. */
final class Query {
    private final Context ctx;
    private final Texts texts;

    Query(Context ctx, Texts texts) {
        this.ctx = ctx;
        this.texts = texts;
    }

    /** An id in the query, null if absent. */
    UUID id(String name) {
        String value = ctx.queryParam(name);
        return value == null || value.isEmpty() ? null : uuid(name, value);
    }

    int wholeNumber(String name, int least, int most, int otherwise) {
        String value = ctx.queryParam(name);
        if (value == null || value.isEmpty()) {
            return otherwise;
        }
        try {
            int number = Integer.parseInt(value);
            if (number >= least && number <= most) {
                return number;
            }
        } catch (NumberFormatException e) {
            throw wrong("bad.whole", name, value, least, most);
        }
        throw wrong("bad.range", name, value, least, most);
    }

    /** An ISO day, null if absent. */
    LocalDate day(String name) {
        String value = ctx.queryParam(name);
        if (value == null || value.isEmpty()) {
            return null;
        }
        try {
            return LocalDate.parse(value);
        } catch (DateTimeParseException e) {
            throw wrong("bad.date", name, value.length() > 40 ? value.substring(0, 40) : value);
        }
    }

    /** A number with a decimal point or comma, null if absent. */
    Double optionalNumber(String name, double least, double most) {
        String value = ctx.queryParam(name);
        if (value == null || value.isBlank()) {
            return null;
        }
        try {
            double number = Double.parseDouble(value.strip().replace(',', '.'));
            if (number >= least && number <= most) {
                return number;
            }
        } catch (NumberFormatException e) {
            throw wrong("bad.number", name, value, least, most);
        }
        throw wrong("bad.range", name, value, least, most);
    }

    /** One of an enum's names, {@code otherwise} if absent. */
    <E extends Enum<E>> E choice(String name, Class<E> type, E otherwise) {
        return text(name).isEmpty() ? otherwise : choice(name, type);
    }

    /** Plain text, empty if absent. */
    String text(String name) {
        String value = ctx.queryParam(name);
        return value == null ? "" : value;
    }

    /** One of an enum's names, which has to be there. */
    <E extends Enum<E>> E choice(String name, Class<E> type) {
        String value = text(name);
        for (E one : type.getEnumConstants()) {
            if (one.name().equalsIgnoreCase(value)) {
                return one;
            }
        }
        String shown = value.length() > 40 ? value.substring(0, 40) : value;
        throw wrong("bad.choice", name, shown, Arrays.toString(type.getEnumConstants()));
    }

    /** The id in the path. */
    static UUID path(Context ctx, Texts texts) {
        return new Query(ctx, texts).uuid("id", ctx.pathParam("id"));
    }

    private UUID uuid(String name, String value) {
        try {
            return UUID.fromString(value);
        } catch (IllegalArgumentException e) {
            throw wrong("bad.id", name, value.length() > 40 ? value.substring(0, 40) : value);
        }
    }

    private Problem wrong(String key, String name, Object... places) {
        Object[] all = new Object[places.length + 1];
        all[0] = texts.field(name);
        System.arraycopy(places, 0, all, 1, places.length);
        return Problem.of(400, "query", texts.say(key, all), texts.say("status.404.remedy"));
    }
}
