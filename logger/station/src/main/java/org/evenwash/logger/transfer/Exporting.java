package org.evenwash.logger.transfer;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import de.siegmar.fastcsv.writer.CsvWriter;
import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Base64;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.TableDump;
import org.evenwash.logger.store.TableDump.Column;
import org.evenwash.logger.store.TableDump.Kind;
import org.jdbi.v3.core.Handle;

/** Everything that is kept, to leave with: as CSV files in a ZIP, or as one JSON document. */
public final class Exporting {
    /** Named in each export; a reader can tell what it has. */
    static final String FORMAT = "evenwash-export-1";

    private static final List<String> WORDS = List.of("frame", "queen_check", "bee_measure");

    private final Database database;
    private final Clock clock;

    public Exporting(Database database, Clock clock) {
        this.database = database;
        this.clock = clock;
    }

    /**
     * Writes a ZIP: one CSV file a table (UTF-8 with mark, commas, RFC 4180), {@code washes.csv} with one
     * row a wash, what each column means, photos and imported files as they came.
     */
    public void csv(OutputStream out) {
        database.snapshot(
                handle -> {
                    try (ZipOutputStream zip = new ZipOutputStream(new Open(out))) {
                        zip.putNextEntry(new ZipEntry("README.txt"));
                        zip.write(readMe().getBytes(StandardCharsets.UTF_8));
                        columns(zip);
                        for (Map.Entry<String, String> query : ExportTables.queries().entrySet()) {
                            table(handle, zip, query.getKey(), query.getValue());
                        }
                        files(handle, zip);
                    } catch (IOException e) {
                        throw new UncheckedIOException("the export cannot be written", e);
                    }
                    return null;
                });
    }

    private String readMe() {
        return """
                Everything that this logger keeps, written %s (%s).

                washes.csv    one row a wash, with names; can be imported into another logger
                columns.csv   what each column of each file means
                *.csv         one file a table; ids lead from one to another
                photos/       photos beside washes
                reports/      reports as they were handed out, by number
                imports/      files of old records as they were brought in, packed with gzip

                UTF-8, commas, decimal points, days as year-month-day, instants in UTC.
                A text that a spreadsheet would take for a formula has an apostrophe before it.
                Passwords are not in it. To move or save a whole logger, use a backup instead.
                """
                .formatted(clock.instant(), FORMAT);
    }

    private static void columns(ZipOutputStream zip) throws IOException {
        CsvWriter csv = entry(zip, "columns.csv");
        csv.writeRecord("file", "column", "meaning");
        ExportTables.meanings()
                .forEach(
                        (table, columns) ->
                                columns.forEach(
                                        (column, meaning) ->
                                                csv.writeRecord(table + ".csv", column, meaning)));
        csv.flush();
    }

    private static CsvWriter entry(ZipOutputStream zip, String name) throws IOException {
        zip.putNextEntry(new ZipEntry(name));
        zip.write(new byte[] {(byte) 0xEF, (byte) 0xBB, (byte) 0xBF});
        return CsvWriter.builder().build(new Open(zip), StandardCharsets.UTF_8);
    }

    private static void table(Handle handle, ZipOutputStream zip, String name, String sql)
            throws IOException {
        CsvWriter csv = entry(zip, name + ".csv");
        boolean words = name.equals(ExportTables.WASHES);
        boolean[] headed = new boolean[1];
        TableDump.read(
                handle,
                sql,
                (columns, values) -> {
                    if (!headed[0]) {
                        headed[0] = true;
                        csv.writeRecord(columns.stream().map(Column::name).toList());
                    }
                    List<String> cells = new ArrayList<>(values.size());
                    for (int i = 0; i < values.size(); i++) {
                        String cell = cell(columns.get(i).kind(), values.get(i));
                        boolean word = words && WORDS.contains(columns.get(i).name());
                        cells.add(word ? WashField.words(cell) : cell);
                    }
                    csv.writeRecord(cells);
                });
        if (!headed[0]) {
            csv.writeRecord(ExportTables.meanings().get(name).keySet());
        }
        csv.flush();
    }

    private static String cell(Kind kind, Object value) {
        if (value == null) {
            return "";
        }
        return switch (kind) {
            case TEXT, JSON -> SafeCell.write((String) value);
            case NUMBER -> plain((Number) value);
            case YES_NO -> (Boolean) value ? "yes" : "no";
            case INSTANT -> value.toString();
            case BYTES -> Base64.getEncoder().encodeToString((byte[]) value);
        };
    }

    /** All its digits, no exponent. */
    private static String plain(Number number) {
        if (number instanceof Long) {
            return number.toString();
        }
        BigDecimal exact = new BigDecimal(number.toString());
        return exact.signum() == 0 ? "0" : exact.stripTrailingZeros().toPlainString();
    }

    private static void files(Handle handle, ZipOutputStream zip) {
        TableDump.read(
                handle,
                ExportTables.FILES.get("photo"),
                (columns, values) -> {
                    String end = "image/png".equals(values.get(1)) ? ".png" : ".jpg";
                    put(zip, "photos/" + values.get(0) + end, (byte[]) values.get(2));
                });
        TableDump.read(
                handle,
                ExportTables.FILES.get("import_file"),
                (columns, values) ->
                        put(zip, "imports/" + values.get(0) + ".csv.gz", (byte[]) values.get(2)));
        TableDump.read(
                handle,
                ExportTables.FILES.get("report_file"),
                (columns, values) -> {
                    String end = values.get(1).toString().toLowerCase(Locale.ROOT);
                    put(zip, "reports/" + values.get(0) + "." + end, (byte[]) values.get(2));
                });
    }

    private static void put(ZipOutputStream zip, String name, byte[] bytes) {
        try {
            zip.putNextEntry(new ZipEntry(name));
            zip.write(bytes);
        } catch (IOException e) {
            throw new UncheckedIOException("the export cannot be written", e);
        }
    }

    /** Writes one JSON object: {@code tables} with an array of rows for each, bytes in Base64. */
    public void json(OutputStream out) {
        database.snapshot(
                handle -> {
                    try (JsonGenerator json = new JsonFactory().createGenerator(new Open(out))) {
                        json.writeStartObject();
                        json.writeStringField("format", FORMAT);
                        json.writeStringField("exportedAt", clock.instant().toString());
                        json.writeObjectFieldStart("tables");
                        for (Map.Entry<String, String> query : ExportTables.queries().entrySet()) {
                            array(handle, json, query.getKey(), query.getValue());
                        }
                        for (Map.Entry<String, String> query : ExportTables.FILES.entrySet()) {
                            array(handle, json, query.getKey() + "_content", query.getValue());
                        }
                        json.writeEndObject();
                        json.writeEndObject();
                    } catch (IOException e) {
                        throw new UncheckedIOException("the export cannot be written", e);
                    }
                    return null;
                });
    }

    private static void array(Handle handle, JsonGenerator json, String name, String sql)
            throws IOException {
        json.writeArrayFieldStart(name);
        TableDump.read(handle, sql, (columns, values) -> object(json, columns, values));
        json.writeEndArray();
    }

    private static void object(JsonGenerator json, List<Column> columns, List<Object> values) {
        try {
            json.writeStartObject();
            for (int i = 0; i < columns.size(); i++) {
                Object value = values.get(i);
                if (value != null) {
                    json.writeFieldName(columns.get(i).name());
                    value(json, columns.get(i).kind(), value);
                }
            }
            json.writeEndObject();
        } catch (IOException e) {
            throw new UncheckedIOException("the export cannot be written", e);
        }
    }

    private static void value(JsonGenerator json, Kind kind, Object value) throws IOException {
        switch (kind) {
            case TEXT -> json.writeString((String) value);
            case JSON -> json.writeRawValue((String) value);
            case NUMBER -> {
                if (value instanceof Long whole) {
                    json.writeNumber(whole);
                } else {
                    json.writeNumber((Double) value);
                }
            }
            case YES_NO -> json.writeBoolean((Boolean) value);
            case INSTANT -> json.writeString(((Instant) value).toString());
            case BYTES -> json.writeBinary((byte[]) value);
        }
    }

    /** What is written into is closed by whoever opened it. */
    private static final class Open extends FilterOutputStream {
        Open(OutputStream out) {
            super(out);
        }

        @Override
        public void write(byte[] bytes, int from, int length) throws IOException {
            out.write(bytes, from, length);
        }

        @Override
        public void close() throws IOException {
            flush();
        }
    }
}
