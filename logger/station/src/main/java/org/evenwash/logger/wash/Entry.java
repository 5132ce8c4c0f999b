package org.evenwash.logger.wash;

/** Checks of what people type. Each throws {@link Refused} with the field's name. */
final class Entry {
    private static final int LONGEST_TEXT = 4_000;

    private Entry() {}

    static String name(String where, String value) {
        String name = value == null ? "" : value.strip();
        if (name.isEmpty()) {
            throw Refused.invalid(where, "is empty", "enter a name");
        }
        if (name.length() > Yard.LONGEST_NAME) {
            throw Refused.invalid(
                    where,
                    "has " + name.length() + " characters, at most " + Yard.LONGEST_NAME,
                    "shorten it");
        }
        if (name.chars().anyMatch(Character::isISOControl)) {
            throw Refused.invalid(where, "contains a control character", "type it again");
        }
        return name;
    }

    /** Free text; absent is empty. */
    static String text(String where, String value) {
        String text = value == null ? "" : value.strip();
        if (text.length() > LONGEST_TEXT) {
            throw Refused.invalid(
                    where,
                    "has " + text.length() + " characters, at most " + LONGEST_TEXT,
                    "shorten it");
        }
        if (text.indexOf('\0') >= 0) {
            throw Refused.invalid(where, "contains a control character", "type it again");
        }
        return text;
    }

    /** A reason is asked of every correction. */
    static String why(String value) {
        String why = text("reason", value);
        if (why.isEmpty()) {
            throw Refused.invalid("reason", "is empty", "say why the value is corrected");
        }
        return why;
    }

    static <T> T present(String where, T value) {
        if (value == null) {
            throw Refused.invalid(where, "is missing", "enter it");
        }
        return value;
    }

    /** Null stays null. */
    static Double range(String where, Double value, double least, double most, String unit) {
        if (value != null && !(value >= least && value <= most)) {
            throw Refused.invalid(
                    where,
                    "is " + value + ", expected " + least + " to " + most + " " + unit,
                    "check the number and its unit");
        }
        return value;
    }
}
