package org.evenwash.logger.transfer;

import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import de.siegmar.fastcsv.reader.FieldMismatchStrategy;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import org.evenwash.logger.wash.Refused;

/** A CSV file of old records, read row by row: it is never in memory as a whole but for its bytes. */
final class CsvFile {
    static final int MOST_BYTES = 32 * 1_024 * 1_024;
    static final int MOST_ROWS = 250_000;
    private static final int MOST_COLUMNS = 200;

    /** In the order in which a draw between them is decided. */
    private static final char[] SEPARATORS = {';', '\t', ','};

    private static final int LOOKED_AT = 50;

    private final byte[] bytes;
    private final TextCode code;
    private final char separator;
    private final List<String> headings;

    /** One row under the heading; false ends the reading. */
    interface Rows {
        boolean row(long line, List<String> cells);
    }

    private CsvFile(byte[] bytes, TextCode code, char separator, List<String> headings) {
        this.bytes = bytes;
        this.code = code;
        this.separator = separator;
        this.headings = headings;
    }

    /**
     * @param separator null to find it out
     * @throws Refused if it is empty, too large, or no CSV text
     */
    static CsvFile of(byte[] bytes, Character separator) {
        if (bytes.length > MOST_BYTES) {
            throw Refused.invalid(
                    "file",
                    "is larger than " + MOST_BYTES / (1_024 * 1_024) + " MiB",
                    "split it, or leave out columns that are not needed");
        }
        TextCode code = TextCode.of(bytes);
        char used = separator == null ? separator(bytes, code) : separator;
        CsvFile unread = new CsvFile(bytes, code, used, List.of());
        List<List<String>> first = new ArrayList<>();
        unread.everyRow(
                (line, cells) -> {
                    first.add(cells);
                    return false;
                });
        if (first.isEmpty()) {
            throw Refused.invalid(
                    "file", "is empty", "choose one whose first line names its columns");
        }
        List<String> headings = first.get(0).stream().map(String::strip).toList();
        if (headings.size() > MOST_COLUMNS) {
            throw Refused.invalid(
                    "file",
                    "has " + headings.size() + " columns, at most " + MOST_COLUMNS,
                    "leave out those that are not needed");
        }
        return new CsvFile(bytes, code, used, headings);
    }

    /** That which cuts the first lines into the most cells, the same number in most of them. */
    private static char separator(byte[] bytes, TextCode code) {
        char best = ',';
        int most = 1;
        for (char one : SEPARATORS) {
            List<Integer> sizes = new ArrayList<>();
            try {
                new CsvFile(bytes, code, one, List.of())
                        .everyRow(
                                (line, cells) ->
                                        sizes.add(cells.size()) && sizes.size() < LOOKED_AT);
            } catch (Refused notThisOne) {
                // A quotation mark may be left open under a wrong separator only.
                continue;
            }
            int columns = sizes.isEmpty() ? 0 : sizes.get(0);
            long alike = sizes.stream().filter(size -> size == columns).count();
            if (columns > most && alike * 2 > sizes.size()) {
                best = one;
                most = columns;
            }
        }
        return best;
    }

    TextCode code() {
        return code;
    }

    char separator() {
        return separator;
    }

    List<String> headings() {
        return headings;
    }

    /** Lines of the file, the heading too; a row may have several. */
    long lines() {
        long lines = 1;
        for (byte one : bytes) {
            lines += one == '\n' ? 1 : 0;
        }
        return lines;
    }

    /** Reads the rows under the heading, blank ones left out. */
    void rows(Rows rows) {
        boolean[] headed = new boolean[1];
        long[] read = new long[1];
        everyRow(
                (line, cells) -> {
                    if (!headed[0]) {
                        headed[0] = true;
                        return true;
                    }
                    if (++read[0] > MOST_ROWS) {
                        throw Refused.invalid(
                                "file", "has more than " + MOST_ROWS + " rows", "split it");
                    }
                    return rows.row(line, cells);
                });
    }

    private void everyRow(Rows rows) {
        var stream = new ByteArrayInputStream(bytes, code.skip(), bytes.length - code.skip());
        long line = 1;
        try (CsvReader<CsvRecord> reader =
                CsvReader.builder()
                        .fieldSeparator(separator)
                        .missingFieldStrategy(FieldMismatchStrategy.IGNORE)
                        .extraFieldStrategy(FieldMismatchStrategy.IGNORE)
                        .allowUnclosedQuote(false)
                        .ofCsvRecord(new InputStreamReader(stream, code.charset()))) {
            for (CsvRecord row : reader) {
                line = row.getStartingLineNumber();
                List<String> cells = row.getFields();
                if (!cells.stream().allMatch(String::isBlank) && !rows.row(line, cells)) {
                    return;
                }
            }
        } catch (CsvParseException broken) {
            throw Refused.invalid(
                    "file",
                    "is not whole as CSV after line " + line,
                    "look for a quotation mark that is opened and not closed");
        } catch (IOException e) {
            throw new UncheckedIOException("cannot read bytes in memory", e);
        }
    }
}
