package org.evenwash.logger.transfer;

/**
 * One value of a file that cannot be taken, or that deserves a look.
 *
 * @param line from 1, as an editor counts them
 * @param column as the file calls it; empty where the whole row is meant
 * @param value what stands there; empty if nothing does
 * @param expected what should stand there, or what was noticed
 */
public record RowProblem(long line, String column, String value, String expected) {
    private static final int SHOWN = 60;

    public RowProblem {
        value = value.length() <= SHOWN ? value : value.substring(0, SHOWN) + "…";
    }
}
