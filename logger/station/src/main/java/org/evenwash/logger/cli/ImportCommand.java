package org.evenwash.logger.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.Callable;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.transfer.DayOrder;
import org.evenwash.logger.transfer.ImportPlan;
import org.evenwash.logger.transfer.Importing;
import org.evenwash.logger.transfer.Outcome;
import org.evenwash.logger.transfer.PlanEdit;
import org.evenwash.logger.transfer.RowProblem;
import org.evenwash.logger.transfer.WashField;
import org.evenwash.logger.wash.By;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

@Command(
        name = "import",
        description = {
            "Brings old records from a CSV file into the logger: the whole file or nothing.",
            "Columns are found by their headings and can be named with --map. With --dry-run it only",
            "says what would be imported and what is wrong, row by row. A row that is here already is",
            "left out, so that a file can be imported again. See also: imports."
        },
        mixinStandardHelpOptions = true)
final class ImportCommand implements Callable<Integer> {
    @Mixin DataOption data;
    @Spec CommandSpec spec;

    @Parameters(paramLabel = "FILE", description = "CSV in UTF-8, UTF-16 or Latin-1.")
    Path file;

    @Option(
            names = "--map",
            paramLabel = "FIELD=COLUMN",
            description = {
                "Which column of the file (its heading, or # and its number) holds what; may be",
                "repeated; nothing after = for none. Fields: " + Fields.ALL
            })
    Map<String, String> columns = new LinkedHashMap<>();

    @Option(
            names = "--separator",
            paramLabel = "comma|semicolon|tab",
            converter = Separator.class,
            description = "What separates the columns; found unless given.")
    Character separator;

    @Option(
            names = "--decimal",
            paramLabel = "point|comma",
            description = "How numbers are written: ${COMPLETION-CANDIDATES}.")
    Decimal decimal;

    @Option(
            names = "--day-order",
            paramLabel = "ORDER",
            description = "How days are written: ${COMPLETION-CANDIDATES}.")
    DayOrder dayOrder;

    @Option(
            names = "--day-zero",
            paramLabel = "DAY",
            description = "With DAY_NUMBER, the day from which they count, as 2031-05-01.")
    LocalDate dayZero;

    @Option(
            names = "--apiary",
            paramLabel = "NAME",
            description = "Of rows whose own column names none.")
    String apiary;

    @Option(
            names = "--time-zone",
            paramLabel = "ZONE",
            description = "Of apiaries that have to be made, such as Europe/Vienna.")
    String timeZone;

    @Option(
            names = "--hemisphere",
            paramLabel = "HEMISPHERE",
            description = "Of apiaries that have to be made: ${COMPLETION-CANDIDATES}.")
    Hemisphere hemisphere;

    @Option(
            names = "--bees-were",
            paramLabel = "MEASURE",
            description = "In rows that do not say: ${COMPLETION-CANDIDATES}.")
    BeeMeasure beeMeasure;

    @Option(
            names = "--bees-from",
            paramLabel = "FRAME",
            description = "In rows that do not say: ${COMPLETION-CANDIDATES}.")
    Frame frame;

    @Option(
            names = "--agitation-in",
            paramLabel = "UNIT",
            description = "Unit of hand-agitation: ${COMPLETION-CANDIDATES}.")
    ImportPlan.AgitationUnit agitationUnit;

    @Option(
            names = "--mass-in",
            paramLabel = "UNIT",
            description = "Unit of sample-mass: ${COMPLETION-CANDIDATES}.")
    ImportPlan.MassUnit massUnit;

    @Option(
            names = "--keep-others",
            description = "Keep columns that are mapped to nothing in the remarks.")
    boolean keepOthers;

    @Option(names = "--dry-run", description = "Import nothing; say what would come.")
    boolean dryRun;

    @Option(
            names = "--leave-out",
            description = "Leave rows with a problem out; otherwise one refuses the whole file.")
    boolean leaveOut;

    @Option(
            names = "--make-new",
            description = "Make apiaries, colonies, people and spirit that are not known yet.")
    boolean makeNew;

    enum Decimal {
        POINT,
        COMMA
    }

    /** For the help; a test holds it against the fields themselves. */
    static final class Fields {
        static final String ALL =
                "day, apiary, colony, operator, frame, queen-check, bees, bee-measure, bees-log-sd,"
                        + " sample-mass, bees-counted-by, mites, counted-by, recount-mites,"
                        + " recounted-by, recount-blind, second-mites, second-counted-by,"
                        + " blank-mites, blank-counted-by, hand-agitation, spirit, rinses, frames,"
                        + " liquid-ml, bees-covered, bee-sieve-mm, mite-sieve-mm,"
                        + " jar-walls-checked, times-washed, remarks, simulated, wash-id";

        private Fields() {}
    }

    @Override
    public Integer call() {
        PrintWriter out = spec.commandLine().getOut();
        try (Database database = data.open()) {
            Importing importing = new Importing(database, Clock.systemUTC());
            // The database keeps milliseconds.
            Instant start = Clock.systemUTC().instant().truncatedTo(ChronoUnit.MILLIS);
            UUID id = importing.upload(String.valueOf(file.getFileName()), bytes()).id();
            ImportPlan plan = plan(importing, id);
            Outcome outcome =
                    Progress.counted("Reading", progress -> importing.check(id, plan, progress));
            print(out, outcome, plan, importing.look(id));
            if (dryRun) {
                if (!importing.file(id).uploadedAt().isBefore(start)) {
                    importing.discard(id);
                }
                out.println("Nothing was imported: this was a dry run.");
            } else {
                Progress.counted(
                        "Importing",
                        progress -> importing.accept(id, leaveOut, makeNew, By.nobody(), progress));
                out.println("Imported " + outcome.ready() + " washes as " + id + ".");
            }
            out.flush();
            return dryRun && outcome.bad() > 0 ? ExitCode.WRONG_INPUT : ExitCode.RESULT;
        } finally {
            out.flush();
        }
    }

    private byte[] bytes() {
        try (var stream = Files.newInputStream(file)) {
            return stream.readNBytes(Importing.LARGEST_BYTES + 1);
        } catch (NoSuchFileException absent) {
            throw new BadInput("There is no file " + file + " here. Check the name.", absent);
        } catch (IOException unreadable) {
            throw new BadInput(
                    "The file " + file + " cannot be read: " + unreadable.getMessage(), unreadable);
        }
    }

    private ImportPlan plan(Importing importing, UUID id) {
        Importing.Look look =
                separator == null ? importing.look(id) : importing.look(id, separator);
        PlanEdit edit =
                new PlanEdit(look)
                        .numbers(separator, decimal == null ? null : decimal == Decimal.COMMA)
                        .days(dayOrder, dayZero)
                        .apiary(apiary)
                        .place(timeZone, hemisphere)
                        .otherwise(beeMeasure, frame)
                        .units(agitationUnit, massUnit)
                        .keepOthers(keepOthers);
        columns.forEach(
                (field, column) ->
                        edit.map(
                                WashField.of(field)
                                        .orElseThrow(
                                                () ->
                                                        new BadInput(
                                                                "--map "
                                                                        + field
                                                                        + "="
                                                                        + column
                                                                        + ": there is no field "
                                                                        + field
                                                                        + "; there are "
                                                                        + Fields.ALL
                                                                        + ".")),
                                column));
        return edit.plan();
    }

    private void print(PrintWriter out, Outcome outcome, ImportPlan plan, Importing.Look look) {
        out.println(file.getFileName() + ", read as " + look.letters() + ":");
        plan.columns().entrySet().stream()
                .sorted(Map.Entry.comparingByKey())
                .forEach(
                        entry ->
                                out.printf(
                                        "  %-18s %s%n",
                                        entry.getKey().key(),
                                        look.headings().get(entry.getValue())));
        out.printf(
                "%d rows: %d ready, %d here already, %d with a problem%n",
                outcome.rows(), outcome.ready(), outcome.alreadyHere(), outcome.bad());
        if (outcome.firstDay() != null) {
            out.printf("Days from %s to %s%n", outcome.firstDay(), outcome.lastDay());
        }
        names(out, "New apiaries", outcome.apiaries());
        names(out, "New colonies", outcome.colonies());
        names(out, "New people", outcome.operators());
        names(out, "New spirit", outcome.spirits());
        outcome.problems().forEach(problem -> out.println(line(problem)));
        outcome.cautions().forEach(caution -> out.println("Look at: " + line(caution)));
    }

    private static void names(PrintWriter out, String what, Outcome.NewNames names) {
        if (names.count() > 0) {
            boolean more = names.count() > names.first().size();
            out.println(
                    what
                            + " ("
                            + names.count()
                            + "): "
                            + String.join(", ", names.first())
                            + (more ? ", …" : ""));
        }
    }

    private String line(RowProblem problem) {
        return new BadField(
                        String.valueOf(file.getFileName()),
                        problem.line(),
                        problem.column(),
                        problem.value(),
                        problem.expected())
                .toString();
    }
}
