package org.evenwash.logger.cli;

import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import de.siegmar.fastcsv.reader.FieldMismatchStrategy;
import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;

/** A CSV file whose columns were found. Nothing is guessed: what could be read two ways is refused. */
final class CsvTable {
    static final int MOST_ROWS = 200_000;
    private static final int SHOWN_MISTAKES = 20;

    private final String file;
    private final char separator;
    private final Map<String, Integer> places;
    private final List<String> headings;
    private final List<CsvRecord> rows;

    private CsvTable(
            String file,
            char separator,
            Map<String, Integer> places,
            List<String> headings,
            List<CsvRecord> rows) {
        this.file = file;
        this.separator = separator;
        this.places = places;
        this.headings = headings;
        this.rows = rows;
    }

    /**
     * @param name the file, for messages
     * @param separator null to find it out from the heading
     * @param columns what the command reads
     * @param theirs what the file calls them, by our names
     */
    static CsvTable of(
            String name,
            String text,
            Character separator,
            List<Column> columns,
            Map<String, String> theirs) {
        char used = separator == null ? Separator.of(name, text) : separator;
        List<CsvRecord> rows = parsed(name, text, used);
        if (rows.isEmpty()) {
            throw new BadInput(
                    name + " is empty: a heading with the names of the columns is expected first.");
        }
        List<String> headings = rows.get(0).getFields().stream().map(String::strip).toList();
        Map<String, Integer> places = Headings.places(name, headings, columns, theirs);
        List<CsvRecord> data = rows.subList(1, rows.size());
        if (data.isEmpty()) {
            throw new BadInput(name + " has a heading but no rows under it.");
        }
        return new CsvTable(name, used, places, headings, data);
    }

    private static List<CsvRecord> parsed(String name, String text, char separator) {
        List<CsvRecord> rows = new ArrayList<>();
        try (CsvReader<CsvRecord> reader =
                CsvReader.builder()
                        .fieldSeparator(separator)
                        .missingFieldStrategy(FieldMismatchStrategy.IGNORE)
                        .extraFieldStrategy(FieldMismatchStrategy.IGNORE)
                        .allowUnclosedQuote(false)
                        .ofCsvRecord(text)) {
            for (CsvRecord row : reader) {
                if (row.getFields().stream().allMatch(String::isBlank)) {
                    continue;
                }
                if (rows.size() > MOST_ROWS) {
                    throw new BadInput(name + " has more than " + MOST_ROWS + " rows: split it.");
                }
                rows.add(row);
            }
        } catch (CsvParseException broken) {
            throw new BadInput(
                    name
                            + " is not whole as CSV, after line "
                            + (rows.isEmpty()
                                    ? 1
                                    : rows.get(rows.size() - 1).getStartingLineNumber())
                            + ": look for a quotation mark that is opened and not closed.",
                    broken);
        } catch (IOException impossible) {
            throw new BadInput(name + " cannot be read: " + impossible.getMessage(), impossible);
        }
        return rows;
    }

    boolean has(String column) {
        return places.containsKey(column);
    }

    /** What the file calls a column. */
    String heading(String column) {
        return headings.get(places.get(column));
    }

    /**
     * Every row as a value.
     *
     * @throws BadInput naming every bad row, up to 20
     */
    <T> List<T> read(Function<CsvRow, T> reader) {
        List<BadField> mistakes = new ArrayList<>();
        List<T> values = new ArrayList<>();
        for (CsvRecord record : rows) {
            var row = new CsvRow(file, places, headings, record, mistakes);
            if (record.getFieldCount() != headings.size()) {
                row.wrongRow(fieldCount(record));
                continue;
            }
            try {
                T value = reader.apply(row);
                if (row.clean()) {
                    values.add(value);
                }
            } catch (IllegalArgumentException outOfRange) {
                if (row.clean()) {
                    row.wrongRow(outOfRange.getMessage());
                }
            }
        }
        refuse(mistakes);
        return values;
    }

    private String fieldCount(CsvRecord record) {
        return record.getFieldCount()
                + " values under "
                + headings.size()
                + " headings; expected as many. A "
                + Separator.word(separator)
                + " inside a text needs quotation marks around the text; a number needs a decimal"
                + " point.";
    }

    private static void refuse(List<BadField> mistakes) {
        if (mistakes.isEmpty()) {
            return;
        }
        int more = mistakes.size() - SHOWN_MISTAKES;
        String first =
                mistakes.stream()
                        .limit(SHOWN_MISTAKES)
                        .map(BadField::toString)
                        .collect(Collectors.joining("\n"));
        throw new BadInput(
                first
                        + (more > 0 ? "\n… and " + more + " more" : "")
                        + "\nNothing was calculated. Correct the file and run the command again.");
    }

    /** For the reader of a result: what was read, and how. */
    Map<String, Object> facts() {
        Map<String, Object> facts = new LinkedHashMap<>();
        facts.put("file", file);
        facts.put("rows", rows.size());
        facts.put("separator", Separator.word(separator));
        return facts;
    }

    /** One line: "24 rows of washes.csv, separated by commas". */
    String words() {
        return rows.size()
                + (rows.size() == 1 ? " row of " : " rows of ")
                + file
                + ", separated by "
                + Separator.word(separator)
                + "s";
    }
}
