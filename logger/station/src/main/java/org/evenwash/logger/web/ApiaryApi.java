package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.OPERATOR;
import static org.evenwash.logger.web.Access.REVIEWER;
import static org.evenwash.logger.web.Route.get;
import static org.evenwash.logger.web.Route.post;

import io.javalin.http.Context;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.wash.ApiaryBook;
import org.evenwash.logger.wash.ApiaryOverview;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.Claim;
import org.evenwash.logger.wash.SameDay;
import org.evenwash.logger.wash.Workplace;

/** The part of the HTTP interface that concerns an apiary as a whole. */
final class ApiaryApi {
    private static final int LONGEST_REMARK = 2_000;

    private final FrontDesk desk;
    private final Workplace place;

    ApiaryApi(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    List<Route> routes() {
        return List.of(
                get("/api/apiaries/{id}", OPERATOR, this::overview),
                post("/api/apiaries/{id}", REVIEWER, this::change));
    }

    private void overview(Context ctx) {
        Texts texts = desk.texts(ctx);
        int days =
                new Query(ctx, texts)
                        .wholeNumber(
                                "days",
                                1,
                                ApiaryBook.LONGEST_ROUND_DAYS,
                                ApiaryBook.USUAL_ROUND_DAYS);
        ApiaryOverview found = place.apiaries().overview(Query.path(ctx, texts), days);
        Map<String, Object> document = new LinkedHashMap<>();
        document.put("apiary", found.apiary());
        document.put("from", found.from());
        document.put("to", found.to());
        document.put("season", found.season());
        document.put(
                "colonies", found.rows().stream().map(row -> row(row, found.threshold())).toList());
        document.put(
                "mean",
                ResultDocument.of(found.mean().result(), Quantity.INFESTATION, "per100Bees"));
        document.put("meanOf", found.mean().of());
        document.put("threshold", found.threshold().orElse(null));
        document.put("over", found.over().orElse(null));
        document.put(
                "coloniesToWash",
                found.rows().isEmpty() ? List.of() : Claim.wanted(found.rows().size()));
        ctx.json(document);
    }

    private static Map<String, Object> row(ApiaryOverview.Row row, Optional<Threshold> threshold) {
        Map<String, Object> document = new LinkedHashMap<>();
        document.put("colony", row.colony());
        document.put("standing", row.standing());
        SameDay day = row.wash();
        document.put("wash", day == null ? null : day.latest());
        document.put(
                "judged",
                day == null ? null : SameDayDocument.of(day, day.verdict(threshold).orElse(null)));
        return document;
    }

    private void change(Context ctx) {
        UUID id = Query.path(ctx, desk.texts(ctx));
        Input in = desk.input(ctx);
        long version = in.wholeNumber("version", 1, Integer.MAX_VALUE);
        var settings =
                new ApiaryBook.Settings(
                        in.text("name", Api.LONGEST_NAME),
                        in.timeZone("timeZone"),
                        in.choice("hemisphere", Hemisphere.class),
                        HandlingForm.mesh(in, "beeSieve_mm"),
                        HandlingForm.mesh(in, "miteSieve_mm"),
                        in.optionalText("remarks", LONGEST_REMARK));
        By by = Api.by(ctx, in);
        in.check();
        Apiary apiary = place.apiaries().change(id, version, settings, by);
        Answer.done(ctx, "/apiaries/" + id, apiary);
    }
}
