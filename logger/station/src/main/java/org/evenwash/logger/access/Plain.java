package org.evenwash.logger.access;

/** What strangers typed, made fit for a line of the log. */
final class Plain {
    private static final int LONGEST = 60;

    private Plain() {}

    static String text(String typed) {
        String line = typed.replaceAll("[^\\p{L}\\p{N} ._@-]", "?");
        return line.length() > LONGEST ? line.substring(0, LONGEST) + "…" : line;
    }
}
