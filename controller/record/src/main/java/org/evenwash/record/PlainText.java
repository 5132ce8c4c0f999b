package org.evenwash.record;

import java.util.regex.Pattern;

/** Text from outside on its way into a line for people: a log's, a panel's. */
public final class PlainText {
    /**
     * Control characters of both sets (a terminal obeys U+009B as it does ESC [), what ends a line or a paragraph,
     * what turns the direction of writing, and halves of characters.
     */
    private static final Pattern UNFIT =
            Pattern.compile("[\\p{Cc}\\p{Zl}\\p{Zp}\\p{Cs}\\u202A-\\u202E\\u2066-\\u2069]");

    private PlainText() {}

    /** The same with a question mark for each character that could end the line or command a terminal. */
    public static String of(String text) {
        return UNFIT.matcher(text).replaceAll("?");
    }
}
