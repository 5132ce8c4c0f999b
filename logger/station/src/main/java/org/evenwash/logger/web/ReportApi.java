package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.OPERATOR;
import static org.evenwash.logger.web.Route.get;
import static org.evenwash.logger.web.Route.post;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.MessageDigest;
import java.time.LocalDate;
import java.util.Base64;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.evenwash.logger.report.ReportDesk;
import org.evenwash.logger.report.Stamp;
import org.evenwash.logger.report.Wording;
import org.evenwash.logger.store.Json;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.Report;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.Messages;

/** The part of the HTTP interface that makes reports and hands them out. */
final class ReportApi {
    private static final int ROWS = 100;

    private final FrontDesk desk;
    private final Workplace place;

    ReportApi(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    List<Route> routes() {
        return List.of(
                get("/api/reports", OPERATOR, this::list),
                post("/api/reports", OPERATOR, this::make),
                get("/api/reports/{id}", OPERATOR, this::report),
                get("/api/reports/{id}/html", OPERATOR, this::html),
                get("/api/reports/{id}/pdf", OPERATOR, this::pdf));
    }

    private void list(Context ctx) {
        int number = new Query(ctx, desk.texts(ctx)).wholeNumber("page", 1, 1_000_000, 1);
        ctx.json(place.reports().list(new Page(number, ROWS)));
    }

    private void make(Context ctx) {
        Input in = desk.input(ctx);
        Report.Kind kind = in.choice("kind", Report.Kind.class);
        UUID subject = in.id("subjectId");
        LocalDate day =
                kind == Report.Kind.APIARY_DAY ? in.date("onDay") : in.optionalDate("onDay");
        By by = Api.by(ctx, in);
        in.check();
        Wording wording = ReaderWording.of(ctx.req().getLocale(), place);
        Report report =
                new ReportDesk(place, desk.demonstration()).make(kind, subject, day, wording, by);
        Answer.created(ctx, "/reports/" + report.id(), report);
    }

    private Report found(Context ctx) {
        return place.reports().report(Query.path(ctx, desk.texts(ctx)));
    }

    /** The report, what it was made of, its results in full digits, and every word it says. */
    private void report(Context ctx) {
        Report report = found(ctx);
        Map<String, Object> all = new LinkedHashMap<>();
        all.put("report", report);
        all.put("inputs", Json.read(place.reports().inputs(report.id()), JsonNode.class));
        all.put("result", Json.read(place.reports().result(report.id()), JsonNode.class));
        ctx.json(all);
    }

    /** As it was handed out, with a policy that lets in its own style and nothing else. */
    private void html(Context ctx) {
        Report report = found(ctx);
        byte[] bytes = place.reports().file(report.id(), Report.Format.HTML);
        ctx.header(
                "Content-Security-Policy",
                "default-src 'none'; style-src '"
                        + styleHash(new String(bytes, StandardCharsets.UTF_8))
                        + "'; font-src 'self'; img-src data:; base-uri 'none'; form-action 'none';"
                        + " frame-ancestors 'none'");
        hand(ctx, report, Report.Format.HTML, bytes);
    }

    private static String styleHash(String html) {
        String begin = "<style>";
        int from = html.indexOf(begin) + begin.length();
        String style = html.substring(from, html.indexOf("</style>", from));
        try {
            byte[] hash =
                    MessageDigest.getInstance("SHA-256")
                            .digest(style.getBytes(StandardCharsets.UTF_8));
            return "sha256-" + Base64.getEncoder().encodeToString(hash);
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("SHA-256 belongs to every Java", e);
        }
    }

    /** As it was handed out; with {@code marked=true} a superseded one says so on every page. */
    private void pdf(Context ctx) {
        Report report = found(ctx);
        byte[] bytes = place.reports().file(report.id(), Report.Format.PDF);
        if (report.superseded() && "true".equals(ctx.queryParam("marked"))) {
            Texts texts = desk.texts(ctx);
            bytes = Stamp.onEveryPage(bytes, superseded(report, texts, desk.formats(ctx)));
        }
        hand(ctx, report, Report.Format.PDF, bytes);
    }

    private String superseded(Report report, Texts texts, Formats formats) {
        return texts.say(
                "report.superseded.stamp",
                formats.dayAndTime(report.supersededAt()),
                report.supersededWhy());
    }

    private static void hand(Context ctx, Report report, Report.Format format, byte[] bytes) {
        String tag = '"' + Messages.sha256(bytes) + '"';
        ctx.header("ETag", tag);
        ctx.header("Cache-Control", "private, no-cache");
        if (tag.equals(ctx.header("If-None-Match"))) {
            ctx.status(304);
            return;
        }
        ctx.contentType(format.mediaType());
        ctx.header(
                "Content-Disposition",
                "inline; filename=\"report-" + report.number() + "." + format.ending() + "\"");
        ctx.result(bytes);
    }
}
