package org.evenwash.logger.transfer;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Bench;
import org.evenwash.logger.store.Benches;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.Handling;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.store.QueenCheck;
import org.evenwash.logger.store.TableDump;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.store.WashLine;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.NewWash;
import org.evenwash.logger.wash.PassSheet;
import org.evenwash.logger.wash.SampleEntry;
import org.evenwash.logger.wash.SpiritShelf;
import org.evenwash.logger.wash.WashSheet;
import org.evenwash.record.Pass;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ExportingTest {
    @TempDir Path folder;
    private OldBook book;
    private Exporting exporting;

    @BeforeEach
    void open() throws IOException {
        book = new OldBook(Files.createDirectory(folder.resolve("from")));
        exporting = new Exporting(book.database, Clock.fixed(OldBook.NOW, ZoneOffset.UTC));
    }

    @AfterEach
    void close() {
        book.close();
    }

    private void washesOfAllKinds() {
        var yard = book.work.yard();
        var apiary =
                yard.addApiary(
                        "Hollow; \"Lane\"", "Europe/Vienna", Hemisphere.NORTHERN, By.nobody());
        var colony = yard.addColony(apiary.id(), "=2+3", By.nobody());
        var ada = yard.addOperator("Ada", By.nobody());
        var brook = yard.addOperator("@Brook", By.nobody());
        var spirit =
                book.work
                        .spirit()
                        .addBatch(
                                new SpiritShelf.NewBatch(
                                        "May mix", "ethanol", 48.5, 24.3, 2_000.0, null, null, ""),
                                By.nobody());
        Wash full = plan(colony.id(), "2031-05-18", ada.id(), "two lines,\nand a comma; -5");
        book.work
                .washes()
                .enterBees(
                        full.id(), 1, BeeMeasure.COUNTED, 312, null, brook.id(), "", By.nobody());
        Wash entered = book.work.washes().wash(full.id());
        book.work
                .washes()
                .enterSample(
                        full.id(),
                        entered.version(),
                        SampleEntry.of(entered)
                                .withHandling(new Handling(3, 150.5, true, 3.2, 0.45, false, 3)),
                        null,
                        By.nobody());
        book.work.washes().enterPass(full.id(), Pass.FIRST, spirit.id(), 61.5, By.nobody());
        book.work.counting().enter(full.id(), Pass.FIRST, 9, ada.id(), By.nobody());
        book.work.counting().recount(full.id(), Pass.FIRST, 10, brook.id(), true, By.nobody());
        book.work.counting().enter(full.id(), Pass.SECOND, 1, ada.id(), By.nobody());
        book.work.counting().enter(full.id(), Pass.BLANK, 0, null, By.nobody());
        Wash estimated = plan(colony.id(), "2031-06-18", null, "'=quoted");
        book.work
                .washes()
                .enterBees(
                        estimated.id(),
                        1,
                        BeeMeasure.MASS,
                        287.346218,
                        0.0731,
                        null,
                        "",
                        By.nobody());
        book.work.counting().enter(estimated.id(), Pass.FIRST, 0, null, By.nobody());
        plan(colony.id(), "2031-07-18", ada.id(), "");
    }

    private Wash plan(UUID colony, String day, UUID operator, String remarks) {
        return book.work
                .washes()
                .plan(
                        new NewWash(
                                colony,
                                LocalDate.parse(day),
                                operator,
                                Frame.BROOD_NEST,
                                QueenCheck.CHECKED_NOT_SEEN,
                                remarks,
                                false),
                        By.nobody());
    }

    private Map<String, byte[]> zip() throws IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        exporting.csv(out);
        Map<String, byte[]> files = new TreeMap<>();
        try (ZipInputStream zip = new ZipInputStream(new ByteArrayInputStream(out.toByteArray()))) {
            for (ZipEntry entry = zip.getNextEntry(); entry != null; entry = zip.getNextEntry()) {
                files.put(entry.getName(), zip.readAllBytes());
            }
        }
        return files;
    }

    private static List<List<String>> rows(byte[] csv) {
        List<List<String>> rows = new ArrayList<>();
        CsvFile file = CsvFile.of(csv, ',');
        rows.add(file.headings());
        file.rows((line, cells) -> rows.add(cells));
        return rows;
    }

    /** What a wash is, ids of people and passes as their names. */
    private static String told(OldBook in, WashLine line) {
        WashSheet sheet = in.work.sheets().of(line.id());
        Wash wash = sheet.wash();
        Map<UUID, String> people = new TreeMap<>();
        in.work.yard().operators().forEach(one -> people.put(one.id(), one.name()));
        StringBuilder told = new StringBuilder();
        told.append(wash.id())
                .append(
                        List.of(
                                line.apiary(),
                                line.colony(),
                                wash.sampledOn(),
                                "" + line.operator()))
                .append(List.of(wash.frame(), wash.queenCheck(), wash.beeMeasure()))
                .append(wash.bees() + "/" + wash.beesLogSd() + "/" + wash.sampleMass_g())
                .append(wash.beesCountedBy() == null ? "" : people.get(wash.beesCountedBy()))
                .append(wash.rinses() + "" + wash.handling() + wash.remarks() + wash.simulated());
        for (PassSheet pass : sheet.passes()) {
            told.append("\n  ").append(pass.pass().kind()).append(pass.pass().handAgitation_s());
            told.append(pass.spirit() == null ? "" : pass.spirit().name());
            pass.counts()
                    .forEach(
                            count ->
                                    told.append(
                                            List.of(
                                                    count.mites(),
                                                    count.recount(),
                                                    count.blind(),
                                                    count.countedBy() == null
                                                            ? "nobody"
                                                            : people.get(count.countedBy()))));
        }
        return told.toString();
    }

    @Test
    void exportedWashes_importedIntoAnEmptyDatabase_areTheSame() throws IOException {
        washesOfAllKinds();
        byte[] csv = zip().get("washes.csv");

        try (OldBook other = new OldBook(Files.createDirectory(folder.resolve("to")))) {
            UUID id = other.upload(csv);
            Outcome outcome = other.check(id);
            assertThat(outcome.problems()).isEmpty();
            assertThat(outcome.ready()).isEqualTo(3);
            other.accept(id);

            assertThat(other.washes().stream().map(line -> told(other, line)))
                    .containsExactlyInAnyOrderElementsOf(
                            book.washes().stream().map(line -> told(book, line)).toList());
            assertThat(other.check(other.upload(csv)).alreadyHere()).isEqualTo(3);
        }
    }

    /** OWASP, "CSV Injection": cells beginning with = + - @, tab or carriage return. */
    @Test
    void textThatASpreadsheetWouldRun_isDefused() throws IOException {
        washesOfAllKinds();
        Map<String, byte[]> files = zip();

        for (Map.Entry<String, byte[]> file : files.entrySet()) {
            if (file.getKey().endsWith(".csv")) {
                for (List<String> row : rows(file.getValue())) {
                    assertThat(row)
                            .as(file.getKey())
                            .noneMatch(cell -> cell.matches("(?s)[=+@\\t\\r].*|-[^0-9].*"));
                }
            }
        }
        assertThat(new String(files.get("colony.csv"), StandardCharsets.UTF_8)).contains("'=2+3");
        for (String text : List.of("=1", "+1", "-1", "@x", "\tx", "'=1", "''=1", "'", "it's", "")) {
            assertThat(SafeCell.read(SafeCell.write(text))).isEqualTo(text);
        }
    }

    /** A new table or column is let out by a line in columns.properties, or named as staying. */
    @Test
    void everyTableAndColumn_leavesOrStaysOnPurpose() {
        Set<String> tables = book.database.read(TableDump::tables);
        Set<String> known = new HashSet<>(ExportTables.meanings().keySet());
        known.remove(ExportTables.WASHES);
        known.addAll(ExportTables.STAYING.keySet());
        assertThat(tables)
                .as("tables without a line in transfer/columns.properties or ExportTables.STAYING")
                .containsExactlyInAnyOrderElementsOf(known);
        for (String table : tables) {
            if (!ExportTables.STAYING.containsKey(table)) {
                List<String> columns =
                        book.database.read(handle -> TableDump.columns(handle, table));
                assertThat(columns)
                        .as("columns of " + table + " in transfer/columns.properties")
                        .containsExactlyInAnyOrderElementsOf(
                                ExportTables.meanings().get(table).keySet());
            }
        }
    }

    @Test
    void json_holdsEveryTable_withItsTypes() throws IOException {
        washesOfAllKinds();
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        exporting.json(out);
        JsonNode document = new ObjectMapper().readTree(out.toByteArray());

        assertThat(document.get("format").asText()).isEqualTo("evenwash-export-1");
        JsonNode tables = document.get("tables");
        assertThat(tables.get("washes")).hasSize(3);
        assertThat(tables.get("mite_count")).hasSize(5);
        JsonNode count = tables.get("mite_count").get(1);
        assertThat(count.get("recount").isBoolean()).isTrue();
        assertThat(count.get("mites").isInt()).isTrue();
        assertThat(count.get("counted_at").asText()).isEqualTo("2031-08-01T12:00:00Z");
        assertThat(tables.get("washes").get(1).get("bees").asDouble()).isEqualTo(287.346218);
        // A formula is a spreadsheet's matter: JSON has the text as it is.
        assertThat(tables.get("colony").get(0).get("name").asText()).isEqualTo("=2+3");
    }

    @Test
    void passwordHashes_stay() throws IOException {
        book.database.change(
                handle ->
                        Benches.put(
                                handle,
                                new Bench(
                                        "shed-1", "Shed", "$2a$secret", false, OldBook.NOW, null)));
        ByteArrayOutputStream json = new ByteArrayOutputStream();
        exporting.json(json);

        assertThat(json.toString(StandardCharsets.UTF_8)).contains("shed-1").doesNotContain("$2a$");
        zip().forEach(
                        (name, bytes) ->
                                assertThat(new String(bytes, StandardCharsets.UTF_8))
                                        .as(name)
                                        .doesNotContain("$2a$"));
    }

    @Test
    void everyColumn_isExplainedInTheExportItself() throws IOException {
        Map<String, byte[]> files = zip();
        List<List<String>> meanings = rows(files.get("columns.csv"));
        for (Map.Entry<String, byte[]> file : files.entrySet()) {
            if (file.getKey().endsWith(".csv") && !file.getKey().equals("columns.csv")) {
                for (String column : rows(file.getValue()).get(0)) {
                    assertThat(meanings)
                            .anyMatch(
                                    row ->
                                            row.get(0).equals(file.getKey())
                                                    && row.get(1).equals(column)
                                                    && !row.get(2).isBlank());
                }
            }
        }
        assertThat(files).containsKey("README.txt");
    }
}
