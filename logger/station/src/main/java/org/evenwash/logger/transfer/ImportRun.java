package org.evenwash.logger.transfer;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Consumer;
import org.evenwash.logger.store.Apiary;
import org.jdbi.v3.core.Handle;

/** Reads a file once from end to end: a dry run looks only, an import hands each wash to its writer. */
final class ImportRun {
    private static final int SHOWN = 100;

    /** Takes what a run finds; nobody in a dry run. */
    interface Writer {
        void wash(OldWash wash, Apiary apiary, UUID colonyId, long rowKey, Directory directory);
    }

    private final CsvFile file;
    private final ImportPlan plan;
    private final Directory directory;
    private final KnownWashes known;
    private final Writer writer;
    private final Consumer<RowProblem> everyProblem;
    private final List<RowProblem> inRow = new ArrayList<>();
    private final List<RowProblem> cautionsInRow = new ArrayList<>();
    private final RowReader reader;

    private long rows;
    private long ready;
    private long here;
    private long bad;
    private long cautioned;
    private final List<Long> hereLines = new ArrayList<>();
    private final List<RowProblem> problems = new ArrayList<>();
    private final List<RowProblem> cautions = new ArrayList<>();
    private LocalDate first;
    private LocalDate last;

    /** New ones that a wash needs; a row that is here already needs none. */
    private final Set<UUID> neededApiaries = new LinkedHashSet<>();

    private final Set<UUID> neededColonies = new LinkedHashSet<>();

    /**
     * @param writer null for a dry run
     * @param everyProblem told of each problem, beyond those that the outcome keeps
     */
    ImportRun(
            Handle handle,
            CsvFile file,
            ImportPlan plan,
            Instant now,
            Writer writer,
            Consumer<RowProblem> everyProblem) {
        this.file = file;
        this.plan = plan;
        this.directory = new Directory(handle, plan, now);
        this.known = new KnownWashes(handle, directory);
        this.writer = writer;
        this.everyProblem = everyProblem;
        // East of Greenwich it may be tomorrow already.
        LocalDate latest = LocalDate.ofInstant(now, ZoneOffset.ofHours(14));
        this.reader = new RowReader(plan, file.headings(), latest, inRow, cautionsInRow);
    }

    Outcome go(boolean sameFile, Progress progress) {
        long lines = file.lines();
        file.rows(
                (line, cells) -> {
                    rows++;
                    row(line, cells);
                    if (rows % 500 == 0) {
                        progress.at(line, lines);
                    }
                    return true;
                });
        progress.at(lines, lines);
        return new Outcome(
                rows,
                ready,
                here,
                List.copyOf(hereLines),
                bad,
                List.copyOf(problems),
                cautioned,
                List.copyOf(cautions),
                first,
                last,
                Outcome.NewNames.of(newApiaries()),
                Outcome.NewNames.of(newColonies()),
                Outcome.NewNames.of(
                        directory.newOperators.values().stream().map(one -> one.name()).toList()),
                Outcome.NewNames.of(
                        directory.newSpirits.values().stream().map(one -> one.name()).toList()),
                sameFile);
    }

    private List<String> newColonies() {
        return neededColonies.stream().map(id -> directory.newColonies.get(id).name()).toList();
    }

    private List<String> newApiaries() {
        return neededApiaries.stream().map(id -> directory.newApiaries.get(id).name()).toList();
    }

    private void row(long line, List<String> cells) {
        inRow.clear();
        cautionsInRow.clear();
        Optional<OldWash> wash = reader.read(line, cells);
        if (wash.isPresent()) {
            take(wash.get());
        }
        if (!inRow.isEmpty()) {
            bad++;
            keepSome(inRow, problems);
            inRow.forEach(everyProblem);
        }
    }

    private void take(OldWash wash) {
        Apiary apiary = directory.apiary(wash.text(WashField.APIARY));
        UUID colony;
        try {
            colony = directory.colony(apiary, wash.text(WashField.COLONY), wash.day());
        } catch (Directory.NoSuchColony trouble) {
            inRow.add(
                    new RowProblem(
                            wash.line(),
                            file.headings().get(plan.columns().get(WashField.COLONY)),
                            wash.text(WashField.COLONY),
                            trouble.getMessage()));
            return;
        }
        KnownWashes.Known row =
                known.of(wash, directory.newColonies.containsKey(colony) ? null : colony);
        if (row.here()) {
            here++;
            if (hereLines.size() < SHOWN) {
                hereLines.add(wash.line());
            }
            return;
        }
        ready++;
        if (directory.newApiaries.containsKey(apiary.id())) {
            neededApiaries.add(apiary.id());
        }
        if (directory.newColonies.containsKey(colony)) {
            neededColonies.add(colony);
        }
        first = first == null || wash.day().isBefore(first) ? wash.day() : first;
        last = last == null || wash.day().isAfter(last) ? wash.day() : last;
        cautioned += cautionsInRow.isEmpty() ? 0 : 1;
        keepSome(cautionsInRow, cautions);
        if (writer == null) {
            name(wash);
        } else {
            writer.wash(wash, apiary, colony, row.key(), directory);
        }
    }

    /** A dry run asks for the people and the spirit too, to tell who is new. */
    private void name(OldWash wash) {
        for (WashField person : ImportWriter.PEOPLE) {
            directory.operator(wash.text(person));
        }
        directory.spirit(wash.text(WashField.SPIRIT));
    }

    private static void keepSome(List<RowProblem> from, List<RowProblem> to) {
        for (RowProblem one : from) {
            if (to.size() < SHOWN) {
                to.add(one);
            }
        }
    }
}
