package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.EVERYBODY;
import static org.evenwash.logger.web.Access.METRICS;
import static org.evenwash.logger.web.Route.get;

import io.javalin.http.Context;
import java.util.List;

/** Up or down for everybody, and nothing more; figures for this machine and for tokens. */
final class HealthPages {
    static final String UP_OR_DOWN = "/health";

    private final Health health;
    private final Figures figures;

    HealthPages(Health health, Figures figures) {
        this.health = health;
        this.figures = figures;
    }

    List<Route> routes() {
        return List.of(
                get(UP_OR_DOWN, EVERYBODY, this::upOrDown),
                get("/metrics", METRICS, this::figures));
    }

    private void upOrDown(Context ctx) {
        boolean up = health.up();
        ctx.status(up ? 200 : 503);
        ctx.contentType("text/plain; charset=utf-8");
        ctx.result(up ? "up\n" : "down\n");
    }

    private void figures(Context ctx) {
        ctx.contentType(Figures.TYPE);
        ctx.result(figures.text());
    }
}
