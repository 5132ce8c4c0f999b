package org.evenwash.logger.web;

import static org.evenwash.logger.web.Route.get;

import java.util.List;
import java.util.Map;
import org.evenwash.logger.store.Database;

/** The HTTP interface; the forms of the pages use it too. */
final class Api {
    private final FrontDesk desk;

    Api(FrontDesk desk, Database station) {
        this.desk = desk;
    }

    List<Route> routes() {
        return List.of(get("/api/session", ctx -> ctx.json(Map.of("csrf", desk.token(ctx)))));
    }
}
