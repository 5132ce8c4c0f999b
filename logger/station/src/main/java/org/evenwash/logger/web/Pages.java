package org.evenwash.logger.web;

import static org.evenwash.logger.web.Route.get;

import io.javalin.http.Context;
import java.util.List;
import org.evenwash.logger.store.Database;

/** The pages, one handler and one template each. */
final class Pages {
    private final FrontDesk desk;
    private final Database station;

    Pages(FrontDesk desk, Database station) {
        this.desk = desk;
        this.station = station;
    }

    List<Route> routes() {
        return List.of(
                get("/colonies", new ColoniesPage(desk, station)::show),
                get("/operators", new OperatorsPage(desk, station)::show),
                get("/spirit", new SpiritPage(desk, station)::show),
                get("/set-aside", new SetAsidePage(desk, station)::show),
                get("/more", this::more),
                get("/cautions", this::cautions));
    }

    private void more(Context ctx) {
        desk.show(ctx, "more", desk.shell(ctx, desk.texts(ctx).say("nav.more"), "more"));
    }

    private void cautions(Context ctx) {
        desk.show(ctx, "cautions", desk.shell(ctx, desk.texts(ctx).say("caution.title"), "more"));
    }
}
