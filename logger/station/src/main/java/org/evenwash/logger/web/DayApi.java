package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.OPERATOR;
import static org.evenwash.logger.web.Route.get;
import static org.evenwash.logger.web.Route.post;

import io.javalin.http.Context;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.evenwash.logger.store.DayPlan;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.DayPlanner;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.Position;

/** The part of the HTTP interface that concerns a day's work. */
final class DayApi {
    private static final int MOST_COLONIES = 1_000;
    private static final int LONGEST_LIST = 60_000;
    private static final int LISTED = 50;

    private final FrontDesk desk;
    private final Workplace place;

    DayApi(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    List<Route> routes() {
        return List.of(
                get("/api/days", OPERATOR, ctx -> ctx.json(place.days().latest(LISTED))),
                post("/api/days", OPERATOR, this::plan),
                get("/api/days/{id}", OPERATOR, this::day),
                post("/api/days/{id}/next", OPERATOR, this::next));
    }

    private void plan(Context ctx) {
        Input in = desk.input(ctx);
        UUID apiary = in.id("apiaryId");
        LocalDate onDay = in.optionalDate("onDay");
        List<UUID> chosen = in.ids("colonies", LONGEST_LIST);
        int howMany = chosen.isEmpty() ? in.wholeNumber("howMany", 1, MOST_COLONIES) : 0;
        Integer seed = in.optionalWholeNumber("seed", 0, Integer.MAX_VALUE);
        UUID operator = in.optionalId("operatorId");
        By by = Api.by(ctx, in);
        in.check();
        long drawnWith = seed == null ? FreshSeed.draw() : seed;
        DayPlan plan =
                place.days()
                        .plan(
                                new DayPlanner.NewDay(
                                        apiary, onDay, chosen, howMany, drawnWith, operator),
                                by);
        Answer.created(ctx, page(plan.id()), document(plan));
    }

    private void day(Context ctx) {
        UUID id = Query.path(ctx, desk.texts(ctx));
        ctx.json(document(place.days().plan(id)));
    }

    private Map<String, Object> document(DayPlan plan) {
        return Map.of("day", plan, "washes", place.days().steps(plan.id()));
    }

    private void next(Context ctx) {
        UUID id = Query.path(ctx, desk.texts(ctx));
        Input in = desk.input(ctx);
        String bench = in.text("benchId", 32);
        Integer jars = in.optionalWholeNumber("jars", 1, Position.MOST);
        RecipeChoice recipe = RecipeChoice.of(in);
        UUID spirit = in.optionalId("spiritBatchId");
        By by = Api.by(ctx, in);
        in.check();
        var setup =
                new DayPlanner.Setup(
                        bench, jars == null ? 1 : jars, recipe.id(), recipe.version(), spirit);
        Answer.created(ctx, page(id), place.days().next(id, setup, by));
    }

    private static String page(UUID id) {
        return "/days/" + id;
    }
}
