package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.OPERATOR;
import static org.evenwash.logger.web.Route.get;
import static org.evenwash.logger.web.Route.post;

import io.javalin.http.Context;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.logger.wash.Yard;

/** The part of the HTTP interface that concerns what happens to a colony. */
final class ColonyApi {
    private static final int LONGEST_REMARK = 2_000;
    private static final int LONGEST_WHY = 400;

    private final FrontDesk desk;
    private final Workplace place;

    ColonyApi(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    List<Route> routes() {
        return List.of(
                get("/api/colonies/{id}/events", OPERATOR, this::events),
                post("/api/colonies/{id}/events", OPERATOR, this::happened),
                post("/api/colony-events/{id}/withdraw", OPERATOR, this::withdraw));
    }

    private void events(Context ctx) {
        UUID id = Query.path(ctx, desk.texts(ctx));
        ctx.json(place.yard().events(place.yard().colony(id).id()));
    }

    private void happened(Context ctx) {
        UUID id = Query.path(ctx, desk.texts(ctx));
        Input in = desk.input(ctx);
        ColonyEvent.Kind kind = in.choice("event", ColonyEvent.Kind.class);
        LocalDate onDay = in.date("onDay");
        // What a kind does not ask for is not read.
        String name = kind == ColonyEvent.Kind.RENAME ? in.text("name", Api.LONGEST_NAME) : null;
        UUID apiary = kind == ColonyEvent.Kind.MOVE ? in.id("toApiaryId") : null;
        boolean two = kind == ColonyEvent.Kind.SPLIT || kind == ColonyEvent.Kind.MERGE;
        UUID other = two ? in.id("otherColonyId") : null;
        boolean treated = kind == ColonyEvent.Kind.TREATMENT;
        String substance = treated ? in.text("substance", Api.LONGEST_NAME) : null;
        LocalDate untilDay = treated ? in.optionalDate("untilDay") : null;
        String remarks = in.optionalText("remarks", LONGEST_REMARK);
        By by = Api.by(ctx, in);
        in.check();
        Yard yard = place.yard();
        Colony colony =
                switch (kind) {
                    case RENAME -> yard.rename(id, name, onDay, by);
                    case MOVE -> yard.move(id, apiary, onDay, by);
                    case REQUEEN -> yard.requeen(id, onDay, remarks, by);
                    case SPLIT -> yard.split(id, other, onDay, by);
                    case MERGE -> yard.mergeInto(id, other, onDay, by);
                    case SWARM -> yard.swarmed(id, onDay, remarks, by);
                    case DEATH -> yard.died(id, onDay, remarks, by);
                    case TREATMENT -> yard.treated(id, substance, onDay, untilDay, remarks, by);
                };
        Answer.done(ctx, page(colony), colony);
    }

    private void withdraw(Context ctx) {
        UUID id = Query.path(ctx, desk.texts(ctx));
        Input in = desk.input(ctx);
        String why = in.text("why", LONGEST_WHY);
        By by = Api.by(ctx, in);
        in.check();
        Colony colony = place.yard().withdraw(id, why, by);
        Answer.done(ctx, page(colony), colony);
    }

    private static String page(Colony colony) {
        return "/colonies/" + colony.id();
    }
}
