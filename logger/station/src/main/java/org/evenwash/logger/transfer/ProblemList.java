package org.evenwash.logger.transfer;

import de.siegmar.fastcsv.writer.CsvWriter;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.List;

/** Problems of a file as a CSV file, to be worked off beside it. */
public final class ProblemList {
    private ProblemList() {}

    public static String csv(List<RowProblem> problems) {
        StringWriter text = new StringWriter();
        try (CsvWriter csv = CsvWriter.builder().build(text)) {
            csv.writeRecord("line", "column", "value", "expected");
            for (RowProblem one : problems) {
                csv.writeRecord(
                        String.valueOf(one.line()),
                        SafeCell.write(one.column()),
                        SafeCell.write(one.value()),
                        SafeCell.write(one.expected()));
            }
        } catch (IOException e) {
            throw new UncheckedIOException("memory cannot be written to", e);
        }
        return text.toString();
    }
}
