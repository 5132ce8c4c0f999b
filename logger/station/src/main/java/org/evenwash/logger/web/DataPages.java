package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.KEEPER;
import static org.evenwash.logger.web.Route.get;

import io.javalin.http.Context;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.store.ImportFile;
import org.evenwash.logger.transfer.DayOrder;
import org.evenwash.logger.transfer.ImportPlan;
import org.evenwash.logger.transfer.Importing;
import org.evenwash.logger.transfer.Outcome;
import org.evenwash.logger.transfer.WashField;
import org.evenwash.logger.wash.Workplace;

/** {@code /data}: what comes in from elsewhere and what leaves; {@code /imports/…}: one file. */
public final class DataPages {
    private static final int MOST_BYTES_SHOWN_AS_KIB = 1_024 * 1_024;

    private final FrontDesk desk;
    private final Workplace place;
    private final Importing importing;
    private final ImportJobs jobs;
    private final boolean sqlite;

    DataPages(
            FrontDesk desk, Workplace place, Importing importing, ImportJobs jobs, boolean sqlite) {
        this.desk = desk;
        this.place = place;
        this.importing = importing;
        this.jobs = jobs;
        this.sqlite = sqlite;
    }

    List<Route> routes() {
        return List.of(
                get("/data", KEEPER, this::data),
                get("/imports/{id}", KEEPER, this::file),
                get("/imports/{id}/progress", KEEPER, this::progress));
    }

    /** One file in the list. */
    public record Line(ImportFile file, Long washes) {}

    /**
     * @param backup whether one can be taken here; PostgreSQL has its own way
     */
    public record Data(List<Line> imports, int most_MiB, boolean backup) {}

    private void data(Context ctx) {
        Shell page = desk.shell(ctx, desk.texts(ctx).say("data.title"), "data");
        List<Line> lines =
                importing.files().stream()
                        .map(
                                file -> {
                                    Outcome outcome = Importing.outcome(file);
                                    return new Line(file, outcome == null ? null : outcome.ready());
                                })
                        .toList();
        int most_MiB = Importing.LARGEST_BYTES / (1_024 * 1_024);
        desk.show(ctx, "data", page, new Data(lines, most_MiB, sqlite));
    }

    /** One column of the file: what it is called, and what its first rows hold. */
    public record Column(String value, String heading, String first) {}

    /** One choice of the plan: which column holds a field. */
    public record Choice(WashField field, String name, String value) {}

    /**
     * @param trouble why the last run was not done, null if it was
     * @param running null where nothing runs
     */
    public record FileView(
            ImportFile file,
            String size,
            Importing.Look look,
            String separator,
            List<Column> columns,
            List<Choice> choices,
            Lists lists,
            Outcome outcome,
            Running running,
            String trouble) {

        /** Whether a column is mapped that most files have not. */
        public boolean unusual() {
            return choices.stream().anyMatch(one -> !one.field().usual() && !one.value().isEmpty());
        }
    }

    /** What can be chosen for all rows. */
    public record Lists(
            List<Option> separators,
            List<Option> dayOrders,
            List<Option> hemispheres,
            List<Option> measures,
            List<Option> frames,
            List<Option> agitationUnits,
            List<Option> massUnits,
            List<Option> operators,
            List<String> apiaries,
            List<String> zones) {}

    /** How far a run is. */
    public record Running(UUID id, long done, long total) {}

    private void file(Context ctx) {
        Texts texts = desk.texts(ctx);
        ImportFile file = importing.file(Query.path(ctx, texts));
        Shell page = desk.shell(ctx, texts.say("import.title", file.name()), "data");
        Running running = running(file.id());
        Importing.Look look = importing.look(file.id());
        String trouble =
                jobs.of(file.id())
                        .filter(job -> job.trouble() != null)
                        .map(job -> job.trouble().getMessage())
                        .orElse(null);
        List<Column> columns = columns(look);
        desk.show(
                ctx,
                "importFile",
                page,
                new FileView(
                        file,
                        size(file.size_bytes(), page),
                        look,
                        ImportForm.separatorWord(look.separator()),
                        columns,
                        choices(look.plan()),
                        lists(page),
                        Importing.outcome(file),
                        running,
                        trouble));
    }

    private static String size(long bytes, Shell page) {
        return bytes < MOST_BYTES_SHOWN_AS_KIB
                ? page.t("data.kib", Math.max(1, bytes / 1_024))
                : page.t("data.mib", page.formats().number(bytes / 1_048_576.0, 1));
    }

    private static List<Column> columns(Importing.Look look) {
        List<Column> columns = new ArrayList<>();
        for (int place = 0; place < look.headings().size(); place++) {
            int here = place;
            List<String> first =
                    look.rows().stream()
                            .filter(row -> row.size() > here && !row.get(here).isBlank())
                            .map(row -> shortened(row.get(here)))
                            .toList();
            String heading = look.headings().get(place);
            columns.add(
                    new Column(
                            "#" + (place + 1),
                            heading.isEmpty() ? "#" + (place + 1) : heading,
                            String.join(" · ", first)));
        }
        return columns;
    }

    private static String shortened(String cell) {
        return cell.length() <= 24 ? cell : cell.substring(0, 24) + "…";
    }

    private static List<Choice> choices(ImportPlan plan) {
        return Arrays.stream(WashField.values())
                .map(
                        field -> {
                            Integer place = plan.columns().get(field);
                            return new Choice(
                                    field,
                                    "column." + field.key(),
                                    place == null ? "" : "#" + (place + 1));
                        })
                .toList();
    }

    private Lists lists(Shell page) {
        Texts texts = page.texts();
        Options options = new Options(place, texts, page.formats());
        return new Lists(
                List.of(
                        new Option("comma", texts.say("import.comma")),
                        new Option("semicolon", texts.say("import.semicolon")),
                        new Option("tab", texts.say("import.tab"))),
                all(texts, DayOrder.values()),
                all(texts, Hemisphere.values()),
                all(texts, org.evenwash.logger.store.BeeMeasure.values()),
                all(texts, org.evenwash.logger.store.Frame.values()),
                all(texts, ImportPlan.AgitationUnit.values()),
                all(texts, ImportPlan.MassUnit.values()),
                options.operators(),
                place.yard().apiaries().stream().map(Apiary::name).toList(),
                ZoneId.getAvailableZoneIds().stream()
                        .filter(zone -> zone.contains("/") && !zone.startsWith("SystemV"))
                        .sorted()
                        .toList());
    }

    private static List<Option> all(Texts texts, Enum<?>... values) {
        return Arrays.stream(values).map(one -> new Option(one.name(), texts.say(one))).toList();
    }

    private Running running(UUID id) {
        return jobs.of(id)
                .filter(ImportJobs.Job::running)
                .map(job -> new Running(id, job.done(), job.total()))
                .orElse(null);
    }

    /** The bar alone, asked for again and again by the page; the whole page once the run is over. */
    private void progress(Context ctx) {
        UUID id = Query.path(ctx, desk.texts(ctx));
        Running running = running(id);
        if (running == null) {
            ctx.header("HX-Refresh", "true");
            running = new Running(id, 1, 1);
        }
        Shell page = desk.shell(ctx, "", "data");
        ctx.html(
                desk.render(
                        "parts/importProgress",
                        java.util.Map.of("page", page, "running", running)));
    }
}
