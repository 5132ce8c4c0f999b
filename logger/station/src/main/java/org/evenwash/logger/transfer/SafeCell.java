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
        boolean marked = text.length() > 1 && text.charAt(0) == MARK && dangerous(text.charAt(1));
        return !text.isEmpty() && (dangerous(text.charAt(0)) || marked) ? MARK + text : text;
    }

    static String read(String cell) {
        if (cell.length() < 2 || cell.charAt(0) != MARK) {
            return cell;
        }
        boolean ours = dangerous(cell.charAt(1)) || (cell.charAt(1) == MARK && cell.length() > 2);
        return ours ? cell.substring(1) : cell;
    }

    private static boolean dangerous(char first) {
        return DANGEROUS.indexOf(first) >= 0;
    }
}
