package org.evenwash.logger.cli;

import de.siegmar.fastcsv.reader.CsvRecord;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import org.evenwash.analysis.Require;

/**
 * One row, read column by column. A value that cannot be used is noted, and a stand-in given, so that
 * every mistake of a file is told at once; the caller throws a row with mistakes away.
 */
final class CsvRow {
    private final String file;
    private final Map<String, Integer> places;
    private final List<String> headings;
    private final CsvRecord row;
    private final List<BadField> mistakes;
    private boolean clean = true;

    CsvRow(
            String file,
            Map<String, Integer> places,
            List<String> headings,
            CsvRecord row,
            List<BadField> mistakes) {
        this.file = file;
        this.places = places;
        this.headings = headings;
        this.row = row;
        this.mistakes = mistakes;
    }

    boolean clean() {
        return clean;
    }

    long line() {
        return row.getStartingLineNumber();
    }

    /** Whether the file has the column and the row something in it. */
    boolean has(String column) {
        return places.containsKey(column) && !raw(column).isEmpty();
    }

    /** The text; empty where the file has no such column. */
    String text(String column) {
        return places.containsKey(column) ? raw(column) : "";
    }

    /** A text that must be there. */
    String word(String column, String expected) {
        String text = text(column);
        if (text.isEmpty()) {
            wrong(column, expected);
        }
        return text;
    }

    /** A whole number from 0. */
    int count(String column) {
        String expected = "a whole number from 0 to " + Require.MOST_MITES;
        OptionalDouble value = number(column, expected);
        if (value.isEmpty()) {
            return 0;
        }
        double count = value.getAsDouble();
        if (count != Math.rint(count) || count < 0 || count > Require.MOST_MITES) {
            wrong(column, expected);
            return 0;
        }
        return (int) count;
    }

    /** A number above 0. */
    double positive(String column) {
        return between(column, Double.MIN_VALUE, Require.MOST_BEES, "a number above 0");
    }

    double between(String column, double least, double most, String expected) {
        OptionalDouble value = number(column, expected);
        if (value.isPresent() && value.getAsDouble() >= least && value.getAsDouble() <= most) {
            return value.getAsDouble();
        }
        if (value.isPresent()) {
            wrong(column, expected);
        }
        return Math.min(most, Math.max(least, 1));
    }

    LocalDate day(String column) {
        try {
            return LocalDate.parse(raw(column));
        } catch (DateTimeParseException other) {
            wrong(column, "a day as year-month-day, such as 2031-07-09");
            return LocalDate.EPOCH;
        }
    }

    void wrong(String column, String expected) {
        clean = false;
        mistakes.add(
                new BadField(
                        file, line(), headings.get(places.get(column)), raw(column), expected));
    }

    /** Something wrong with the row as a whole. */
    void wrongRow(String what) {
        clean = false;
        mistakes.add(new BadField(file, line(), "", "", what));
    }

    private OptionalDouble number(String column, String expected) {
        OptionalDouble value = Decimals.read(raw(column));
        if (value.isEmpty()) {
            wrong(
                    column,
                    Decimals.advice(raw(column))
                            .map(advice -> expected + " (" + advice + ")")
                            .orElse(expected));
        }
        return value;
    }

    private String raw(String column) {
        return row.getField(places.get(column)).strip();
    }
}
