package org.evenwash.logger.transfer;

/**
 * Texts that a spreadsheet would take for a formula are written with an apostrophe before them, and
 * read without it (OWASP, "CSV Injection": cells beginning with = + - @, tab or carriage return).
 */
final class SafeCell {
    private static final String DANGEROUS = "=+-@\t\r";
    private static final char MARK = '\'';

    private SafeCell() {}

    /** For texts only: a negative number is no formula. */
    static String write(String text) {
        return dangerous(text) ? MARK + text : text;
    }

    static String read(String cell) {
        return !cell.isEmpty() && cell.charAt(0) == MARK && dangerous(cell)
                ? cell.substring(1)
                : cell;
    }

    /** Apostrophes before it do not count, so that one more or less can be told. */
    private static boolean dangerous(String text) {
        int first = 0;
        while (first < text.length() && text.charAt(first) == MARK) {
            first++;
        }
        return first < text.length() && DANGEROUS.indexOf(text.charAt(first)) >= 0;
    }
}
