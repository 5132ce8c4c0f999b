package org.evenwash.logger.cli;

import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/** A CSV file of counts, a wash a row. All that is wrong in it is said at once. */
final class CountTable {
    private static final int MOST_MISTAKES = 20;
    private static final double MOST = 1_000_000;

    private final String file;
    private final String mitesColumn;
    private final String beesColumn;
    private final List<Row> rows = new ArrayList<>();
    private final List<String> mistakes = new ArrayList<>();

    /**
     * One wash.
     *
     * @param line in the file, from 1
     * @param mites 0 or more
     * @param bees above 0; with decimals where estimated
     */
    record Row(long line, int mites, double bees) {}

    private CountTable(String file, Map<String, String> columns) {
        this.file = file;
        this.mitesColumn = columns.getOrDefault("mites", "mites");
        this.beesColumn = columns.getOrDefault("bees", "bees");
    }

    /**
     * Reads a file.
     *
     * @param file a path, or {@code -} for standard input
     * @param columns our names, {@code mites} and {@code bees}, to those in the file
     * @throws BadInput naming line, column, value and what is expected
     */
    static List<Row> read(String file, Map<String, String> columns, char separator) {
        for (String name : columns.keySet()) {
            if (!name.equals("mites") && !name.equals("bees")) {
                throw new BadInput(
                        "--column "
                                + name
                                + "=… names no column of ours; use mites=NAME or bees=NAME");
            }
        }
        CountTable table = new CountTable(file.equals("-") ? "standard input" : file, columns);
        try (InputStream in = file.equals("-") ? standardInput() : open(file);
                CsvReader<NamedCsvRecord> reader =
                        CsvReader.builder()
                                .fieldSeparator(separator)
                                .detectBomHeader(true)
                                .ofNamedCsvRecord(in, StandardCharsets.UTF_8)) {
            reader.forEach(table::take);
        } catch (CsvParseException e) {
            throw new BadInput(table.file + " is no proper CSV: " + said(e));
        } catch (IOException | UncheckedIOException e) {
            throw new BadInput(table.file + " cannot be read: " + e.getMessage());
        }
        return table.result();
    }

    private static String said(CsvParseException e) {
        return e.getCause() == null
                ? e.getMessage()
                : e.getMessage() + " " + e.getCause().getMessage();
    }

    private static InputStream open(String file) throws IOException {
        try {
            return Files.newInputStream(Path.of(file));
        } catch (NoSuchFileException e) {
            throw new BadInput(file + " is not there; check the path");
        }
    }

    /** Left open when the table is read. */
    private static InputStream standardInput() {
        return new FilterInputStream(System.in) {
            @Override
            public void close() {}
        };
    }

    private void take(NamedCsvRecord row) {
        if (rows.isEmpty() && mistakes.isEmpty()) {
            checkColumn(row, mitesColumn, "mites");
            checkColumn(row, beesColumn, "bees");
        }
        if (row.getFieldCount() != row.getHeader().size()) {
            mistakes.add(
                    file
                            + " line "
                            + row.getStartingLineNumber()
                            + " has "
                            + row.getFieldCount()
                            + " fields, expected "
                            + row.getHeader().size()
                            + " as in the header");
            return;
        }
        String mites = row.findField(mitesColumn).orElse("").strip();
        String bees = row.findField(beesColumn).orElse("").strip();
        boolean good = true;
        if (!mites.matches("[0-9]{1,7}") || Integer.parseInt(mites) > MOST) {
            mistake(row, mitesColumn, mites, "a whole number of mites, 0 or more");
            good = false;
        }
        if (!bees.matches("[0-9]{1,7}([.][0-9]{1,12})?")
                || !(Double.parseDouble(bees) > 0 && Double.parseDouble(bees) <= MOST)) {
            mistake(row, beesColumn, bees, "a number of bees above 0, with a point for decimals");
            good = false;
        }
        if (good) {
            rows.add(
                    new Row(
                            row.getStartingLineNumber(),
                            Integer.parseInt(mites),
                            Double.parseDouble(bees)));
        }
    }

    private void checkColumn(NamedCsvRecord row, String column, String ours) {
        if (!row.getHeader().contains(column)) {
            throw new BadInput(
                    file
                            + " line 1 has no column '"
                            + column
                            + "' (it has "
                            + String.join(", ", row.getHeader())
                            + "); say which one it is with --column "
                            + ours
                            + "=NAME");
        }
    }

    private void mistake(NamedCsvRecord row, String column, String value, String expected) {
        mistakes.add(
                file
                        + " line "
                        + row.getStartingLineNumber()
                        + ", column "
                        + column
                        + ": "
                        + (value.isEmpty() ? "empty" : "'" + value + "'")
                        + ", expected "
                        + expected);
    }

    private List<Row> result() {
        if (!mistakes.isEmpty()) {
            int more = mistakes.size() - MOST_MISTAKES;
            List<String> shown = mistakes.subList(0, Math.min(mistakes.size(), MOST_MISTAKES));
            throw new BadInput(
                    String.join(System.lineSeparator(), shown)
                            + (more > 0 ? System.lineSeparator() + "and " + more + " more" : ""));
        }
        if (rows.isEmpty()) {
            throw new BadInput(file + " has no rows below its header");
        }
        return rows;
    }
}
