package org.evenwash.logger.cli;

/**
 * One value that cannot be used.
 *
 * @param line from 1, as an editor counts them
 * @param column as the file calls it; empty where the whole row is meant
 * @param value what stands there; empty if nothing does
 * @param expected what should stand there, and what to do where that is plain
 */
record BadField(String file, long line, String column, String value, String expected) {
    private static final int SHOWN = 40;

    @Override
    public String toString() {
        String where = file + ", line " + line + (column.isEmpty() ? "" : ", column " + column);
        if (column.isEmpty()) {
            return where + ": " + expected;
        }
        String found = value.isEmpty() ? "is empty" : "\"" + shortened() + "\"";
        return where + ": " + found + "; expected " + expected;
    }

    private String shortened() {
        return value.length() <= SHOWN ? value : value.substring(0, SHOWN) + "…";
    }
}
