package org.evenwash.logger.transfer;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Clock;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.function.Consumer;
import java.util.zip.GZIPInputStream;
import java.util.zip.GZIPOutputStream;
import org.evenwash.logger.store.Apiaries;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.ImportFile;
import org.evenwash.logger.store.ImportFiles;
import org.evenwash.logger.store.ImportedRows;
import org.evenwash.logger.store.Json;
import org.evenwash.logger.store.Operators;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.Refused;
import org.evenwash.record.Ids;
import org.evenwash.record.Messages;
import org.jdbi.v3.core.Handle;

/**
 * Old records from CSV files: brought in, looked at in a dry run, imported whole or not at all, and
 * taken out again.
 */
public final class Importing {
    /** Largest file, bytes. */
    public static final int LARGEST_BYTES = CsvFile.MOST_BYTES;

    private static final int SHOWN_ROWS = 4;
    private static final int SHOWN_BUILT_ON = 5;
    private static final int LISTED = 50;

    /** Files that nobody imported are thrown away after this time. */
    private static final Duration PATIENCE = Duration.ofDays(30);

    private final Database database;
    private final Clock clock;

    public Importing(Database database, Clock clock) {
        this.database = database;
        this.clock = clock;
    }

    /** What is seen of a file before anything is read from it. */
    public record Look(
            String letters,
            boolean lettersSure,
            char separator,
            List<String> headings,
            List<List<String>> rows,
            ImportPlan plan) {}

    /**
     * Takes a file in. One with the same bytes that still waits is answered instead of a second.
     *
     * @param bytes at most {@link #LARGEST_BYTES}
     * @throws Refused if it is no CSV text
     */
    public ImportFile upload(String name, byte[] bytes) {
        CsvFile.of(bytes, null).rows((line, cells) -> true);
        String shown = name == null || name.isBlank() ? "file.csv" : lastPart(name);
        String sha256 = Messages.sha256(bytes);
        Instant now = clock.instant();
        return database.write(
                handle -> {
                    ImportFiles.discardStale(handle, now.minus(PATIENCE));
                    return ImportFiles.ofContent(handle, sha256).stream()
                            .filter(Importing::waits)
                            .findFirst()
                            .orElseGet(() -> insert(handle, shown, sha256, bytes, now));
                });
    }

    private static boolean waits(ImportFile file) {
        return file.standing() == ImportFile.Standing.UPLOADED
                || file.standing() == ImportFile.Standing.CHECKED;
    }

    private static ImportFile insert(
            Handle handle, String name, String sha256, byte[] bytes, Instant now) {
        UUID id = Ids.next();
        ImportFile file =
                new ImportFile(
                        id,
                        name,
                        sha256,
                        bytes.length,
                        ImportFile.Standing.UPLOADED,
                        null,
                        null,
                        now,
                        null,
                        null,
                        null,
                        null,
                        null);
        ImportFiles.insert(handle, file, packed(bytes));
        return file;
    }

    private static String lastPart(String name) {
        String last = name.substring(Math.max(name.lastIndexOf('/'), name.lastIndexOf('\\')) + 1);
        String plain = last.replaceAll("\\p{Cntrl}", "");
        return plain.length() <= 120 ? plain : plain.substring(0, 120);
    }

    public ImportFile file(UUID id) {
        return database.read(handle -> file(handle, id));
    }

    private static ImportFile file(Handle handle, UUID id) {
        return ImportFiles.find(handle, id).orElseThrow(() -> Refused.notFound("import", id));
    }

    /** The latest, newest first. */
    public List<ImportFile> files() {
        return database.read(handle -> ImportFiles.latest(handle, LISTED));
    }

    /** What the file looks like, with the plan chosen so far or a first one. */
    public Look look(UUID id) {
        ImportFile file = file(id);
        ImportPlan chosen = plan(file);
        CsvFile csv = csv(id, chosen == null ? null : chosen.separator());
        return look(csv, chosen);
    }

    /** As {@link #look(UUID)} with another separator than the one found. */
    public Look look(UUID id, char separator) {
        return look(csv(id, separator), null);
    }

    private Look look(CsvFile csv, ImportPlan chosen) {
        List<List<String>> rows = new ArrayList<>();
        csv.rows((line, cells) -> rows.add(cells) && rows.size() < SHOWN_ROWS);
        return new Look(
                csv.code().word(),
                csv.code().sure(),
                csv.separator(),
                csv.headings(),
                rows,
                chosen == null ? Suggestion.of(csv, database.read(Apiaries::all)) : chosen);
    }

    /** Null before one was chosen. */
    public static ImportPlan plan(ImportFile file) {
        return file.planJson() == null ? null : Json.read(file.planJson(), ImportPlan.class);
    }

    /** Null before a dry run. */
    public static Outcome outcome(ImportFile file) {
        return file.outcomeJson() == null ? null : Json.read(file.outcomeJson(), Outcome.class);
    }

    /**
     * Reads the file by a plan and tells what an import would do. Changes nothing but the plan.
     *
     * @throws Refused if the plan cannot be, or the file is imported already
     */
    public Outcome check(UUID id, ImportPlan plan, Progress progress) {
        Outcome outcome = outcome(id, plan, progress, problem -> {});
        boolean kept =
                database.write(
                        handle ->
                                ImportFiles.checked(
                                        handle, id, Json.write(plan), Json.write(outcome)));
        if (!kept) {
            throw importedAlready();
        }
        return outcome;
    }

    /** Every problem of the file under its plan, not only the first. */
    public void problems(UUID id, Consumer<RowProblem> each) {
        ImportPlan plan = plan(file(id));
        if (plan == null) {
            throw notChecked();
        }
        outcome(id, plan, Progress.NONE, each);
    }

    private Outcome outcome(
            UUID id, ImportPlan plan, Progress progress, Consumer<RowProblem> each) {
        CsvFile csv = csv(id, plan.separator());
        checkPlan(plan, csv);
        return database.read(
                handle ->
                        new ImportRun(handle, csv, plan, clock.instant(), null, each)
                                .go(sameFile(handle, id), progress));
    }

    private static boolean sameFile(Handle handle, UUID id) {
        return ImportFiles.ofContent(handle, file(handle, id).sha256()).stream()
                .anyMatch(
                        one ->
                                one.standing() == ImportFile.Standing.IMPORTED
                                        && !one.id().equals(id));
    }

    private static void checkPlan(ImportPlan plan, CsvFile csv) {
        for (WashField field : WashField.values()) {
            Integer place = plan.columns().get(field);
            if (place == null && field.required()) {
                throw Refused.invalid(
                        "column " + field.key(), "is not chosen", "say which column holds it");
            }
            if (place != null && (place < 0 || place >= csv.headings().size())) {
                throw Refused.invalid(
                        "column " + field.key(),
                        "is number " + (place + 1) + " of " + csv.headings().size(),
                        "choose one that the file has");
            }
        }
        long different = plan.columns().values().stream().distinct().count();
        if (different < plan.columns().size()) {
            throw Refused.invalid(
                    "columns", "are chosen twice", "let each column mean one thing only");
        }
        if (plan.dayOrder() == DayOrder.DAY_NUMBER && plan.dayZero() == null) {
            throw Refused.invalid(
                    "day 0", "is missing", "enter the day from which the file counts its days");
        }
        if (plan.apiary() == null && !plan.columns().containsKey(WashField.APIARY)) {
            throw Refused.invalid(
                    "apiary", "is missing", "choose its column, or name one for all rows");
        }
        try {
            ZoneId.of(plan.timeZone());
        } catch (DateTimeException unknown) {
            throw Refused.invalid(
                    "time zone", "reads '" + plan.timeZone() + "'", "enter one like Europe/Vienna");
        }
    }

    /**
     * Imports what the last dry run read: every row that is ready, in one transaction.
     *
     * @param leaveOut whether rows with a problem may be left out; otherwise one of them refuses all
     * @param makeNew whether apiaries, colonies, people and spirit that are not known may be made
     * @throws Refused if one of the two is needed and not given, or there is nothing to import
     */
    public ImportFile accept(UUID id, boolean leaveOut, boolean makeNew, By by, Progress progress) {
        ImportFile file = file(id);
        if (file.standing() == ImportFile.Standing.IMPORTED) {
            return file;
        }
        if (file.standing() != ImportFile.Standing.CHECKED) {
            throw notChecked();
        }
        ImportPlan plan = plan(file);
        CsvFile csv = csv(id, plan.separator());
        Instant now = clock.instant();
        database.change(
                handle -> {
                    checkOperator(handle, by);
                    // One import at a time, also on PostgreSQL: two files may hold the same washes.
                    Database.setFact(handle, "latest-import", id.toString());
                    if (!ImportFiles.imported(handle, id, now, by.operatorId())) {
                        return;
                    }
                    Outcome outcome;
                    try (ImportWriter writer = new ImportWriter(handle, id, now)) {
                        outcome =
                                new ImportRun(handle, csv, plan, now, writer, problem -> {})
                                        .go(sameFile(handle, id), progress);
                        writer.flush();
                    }
                    agreed(outcome, leaveOut, makeNew);
                    ImportFiles.setOutcome(handle, id, Json.write(outcome));
                });
        return file(id);
    }

    private static void agreed(Outcome outcome, boolean leaveOut, boolean makeNew) {
        if (outcome.ready() == 0) {
            throw Refused.conflict(
                    "file",
                    outcome.alreadyHere() > 0
                            ? "holds nothing new: its washes are here already"
                            : "holds no row that can be imported",
                    "choose another file, or other columns");
        }
        if (outcome.bad() > 0 && !leaveOut) {
            throw Refused.conflict(
                    "file",
                    "has " + outcome.bad() + " rows with a problem; nothing was imported",
                    "correct them in the file, or agree to leave these rows out");
        }
        if (outcome.needsNew() && !makeNew) {
            throw Refused.conflict(
                    "file",
                    "names apiaries, colonies, people or spirit that are not known; nothing was"
                            + " imported",
                    "agree to make them, or correct the names");
        }
    }

    /**
     * Takes all washes of an import out again, and what was made for them where nothing else uses it.
     * The file and its plan stay, to be imported better.
     *
     * @throws Refused if something was built on one of its washes
     */
    public ImportFile undo(UUID id, String why, By by) {
        if (why == null || why.isBlank()) {
            throw Refused.invalid("reason", "is empty", "say why the import is undone");
        }
        database.change(
                handle -> {
                    checkOperator(handle, by);
                    if (file(handle, id).standing() == ImportFile.Standing.UNDONE) {
                        return;
                    }
                    if (file(handle, id).importedAt() == null) {
                        throw Refused.conflict(
                                "import", "was never made", "there is nothing to undo");
                    }
                    untouched(handle, id);
                    ImportedRows.delete(handle, id);
                    ImportFiles.undone(handle, id, clock.instant(), by.operatorId(), why.strip());
                });
        return file(id);
    }

    private static void untouched(Handle handle, UUID id) {
        List<ImportedRows.BuiltOn> built = ImportedRows.builtOn(handle, id, SHOWN_BUILT_ON + 1);
        if (built.isEmpty()) {
            return;
        }
        String lines =
                String.join(
                        ", ",
                        built.stream()
                                .limit(SHOWN_BUILT_ON)
                                .map(one -> "line " + one.line() + " " + one.what())
                                .toList());
        throw Refused.conflict(
                "import",
                "has washes that were worked on since: "
                        + lines
                        + (built.size() > SHOWN_BUILT_ON ? ", …" : ""),
                "take that back first, or remove single washes on their pages");
    }

    /** Throws a file away that was not imported. */
    public void discard(UUID id) {
        boolean gone =
                database.write(
                        handle -> {
                            file(handle, id);
                            return ImportFiles.discard(handle, id);
                        });
        if (!gone) {
            throw Refused.conflict(
                    "import", "was made", "undo it instead; that it was made stays on record");
        }
    }

    private CsvFile csv(UUID id, Character separator) {
        byte[] packed = database.read(handle -> ImportFiles.packed(handle, id));
        return CsvFile.of(unpacked(packed), separator);
    }

    private static void checkOperator(Handle handle, By by) {
        if (by.operatorId() != null && Operators.find(handle, by.operatorId()).isEmpty()) {
            throw Refused.notFound("operator", by.operatorId());
        }
    }

    private static Refused importedAlready() {
        return Refused.conflict(
                "file", "is imported already", "undo the import to read it another way");
    }

    private static Refused notChecked() {
        return Refused.conflict("file", "was not looked through yet", "do a dry run first");
    }

    private static byte[] packed(byte[] bytes) {
        ByteArrayOutputStream packed = new ByteArrayOutputStream(bytes.length / 4 + 64);
        try (GZIPOutputStream gzip = new GZIPOutputStream(packed)) {
            gzip.write(bytes);
        } catch (IOException e) {
            throw new UncheckedIOException("cannot pack a file", e);
        }
        return packed.toByteArray();
    }

    private static byte[] unpacked(byte[] packed) {
        try (GZIPInputStream gzip = new GZIPInputStream(new ByteArrayInputStream(packed))) {
            return gzip.readAllBytes();
        } catch (IOException e) {
            throw new UncheckedIOException("cannot unpack a file that was brought in", e);
        }
    }
}
