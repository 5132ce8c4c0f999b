package org.evenwash.demo;

import de.siegmar.fastcsv.writer.CsvWriter;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** The washes of the day as a table for people and as a CSV file. */
final class Report {
    private Report() {}

    static String table(List<WashRow> rows) {
        StringBuilder text = new StringBuilder();
        text.append(
                "colony     agitation asked/done, s   mites   bees   mites per 100 bees (95 %)   checks\n");
        for (WashRow row : rows) {
            String asked = row.asked_s() == null ? "by hand" : "%.0f".formatted(row.asked_s());
            text.append(
                    "%-10s %12s / %-9.1f %7d %6.0f   %-26s   %s%n"
                            .formatted(
                                    row.colony(),
                                    asked,
                                    row.done_s(),
                                    row.mites(),
                                    row.bees(),
                                    row.per100Text(),
                                    row.checks()));
        }
        return text.toString();
    }

    /** One row a wash; a wash of several cycles names them all, one by hand none. */
    static void write(Path file, List<WashRow> rows) {
        try {
            Files.createDirectories(file.getParent());
            try (CsvWriter csv = CsvWriter.builder().build(file)) {
                csv.writeRecord("cycle_id", "colony", "mites", "bees", "per_100", "lower", "upper");
                for (WashRow row : rows) {
                    csv.writeRecord(
                            String.join(" ", row.cycleIds()),
                            row.colony(),
                            String.valueOf(row.mites()),
                            "%.0f".formatted(row.bees()),
                            String.valueOf(row.per100()),
                            String.valueOf(row.lower()),
                            String.valueOf(row.upper()));
                }
            }
        } catch (IOException e) {
            throw new UncheckedIOException("cannot write " + file, e);
        }
    }
}
