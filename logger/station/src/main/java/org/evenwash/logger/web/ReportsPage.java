package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.Report;
import org.evenwash.logger.wash.Workplace;

/** {@code /reports}: those handed out, and a new one; {@code /reports/{id}}: one as it stands. */
public final class ReportsPage {
    private static final int ROWS = 50;

    private final FrontDesk desk;
    private final Workplace place;

    ReportsPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /**
     * One line of the list.
     *
     * @param who empty where nobody is known
     */
    public record Line(Report report, String when, String who) {}

    /** What a new report would be about. */
    public record Subject(Report.Kind kind, String id, String day, String name, String back) {}

    /**
     * @param subject null for the list of all
     */
    public record View(Subject subject, List<Line> lines, long total, List<Option> operators) {}

    public record One(Report report, String when, String who, String superseded, Subject subject) {}

    void list(Context ctx) {
        Texts texts = desk.texts(ctx);
        Query query = new Query(ctx, texts);
        UUID id = query.id("subjectId");
        Formats formats = desk.formats(ctx);
        Map<UUID, String> names = Names.of(place);
        if (id == null) {
            var all =
                    place.reports().list(new Page(query.wholeNumber("page", 1, 100_000, 1), ROWS));
            Shell page = desk.shell(ctx, texts.say("report.title"), "more");
            desk.show(
                    ctx,
                    "reports",
                    page,
                    new View(null, lines(all.rows(), formats, names), all.total(), List.of()));
            return;
        }
        Report.Kind kind = query.choice("kind", Report.Kind.class);
        LocalDate day = query.day("onDay");
        Subject subject = subject(kind, id, day, formats, texts);
        List<Report> rows = place.reports().of(kind, id, day);
        Shell page = desk.shell(ctx, texts.say("report.of", subject.name()), "more");
        desk.show(
                ctx,
                "reports",
                page,
                new View(
                        subject,
                        lines(rows, formats, names),
                        rows.size(),
                        new Options(place, texts, formats).operators()));
    }

    private static List<Line> lines(
            List<Report> reports, Formats formats, Map<UUID, String> names) {
        return reports.stream()
                .map(
                        one ->
                                new Line(
                                        one,
                                        formats.dayAndTime(one.madeAt()),
                                        one.madeBy() == null
                                                ? ""
                                                : names.getOrDefault(one.madeBy(), "")))
                .toList();
    }

    private Subject subject(
            Report.Kind kind, UUID id, LocalDate day, Formats formats, Texts texts) {
        return switch (kind) {
            case WASH -> {
                var wash = place.washes().wash(id);
                String name =
                        texts.say("wash.title", place.yard().colony(wash.colonyId()).name())
                                + ", "
                                + formats.day(wash.sampledOn());
                yield new Subject(kind, id.toString(), null, name, "/washes/" + id);
            }
            case COLONY ->
                    new Subject(
                            kind,
                            id.toString(),
                            null,
                            place.yard().colony(id).name(),
                            "/colonies/" + id);
            case APIARY_DAY ->
                    new Subject(
                            kind,
                            id.toString(),
                            day == null ? null : day.toString(),
                            place.yard().apiary(id).name()
                                    + (day == null ? "" : ", " + formats.day(day)),
                            "/washes?apiaryId=" + id);
            case CALIBRATION ->
                    new Subject(
                            kind,
                            id.toString(),
                            null,
                            place.calibrating().shelf().calibration(id).name(),
                            "/calibrations/" + id);
        };
    }

    void show(Context ctx) {
        Texts texts = desk.texts(ctx);
        Formats formats = desk.formats(ctx);
        Report report = place.reports().report(Query.path(ctx, texts));
        Map<UUID, String> names = Names.of(place);
        String title = texts.say("report.one", String.valueOf(report.number()));
        String superseded =
                !report.superseded()
                        ? null
                        : texts.say(
                                "report.superseded.says",
                                formats.dayAndTime(report.supersededAt()),
                                report.supersededBy() == null
                                        ? texts.say("wash.nobody")
                                        : names.getOrDefault(report.supersededBy(), ""),
                                report.supersededWhy());
        desk.show(
                ctx,
                "report",
                desk.shell(ctx, title, "more"),
                new One(
                        report,
                        formats.dayAndTime(report.madeAt()),
                        report.madeBy() == null ? "" : names.getOrDefault(report.madeBy(), ""),
                        superseded,
                        subject(
                                report.kind(),
                                report.subjectId(),
                                report.onDay(),
                                formats,
                                texts)));
    }
}
