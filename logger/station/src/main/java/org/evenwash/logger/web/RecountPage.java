package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.wash.WashSheet;
import org.evenwash.logger.wash.Workplace;

/** {@code /washes/{id}/recount}: a second count, on a page that does not show the first. */
public final class RecountPage {
    private final FrontDesk desk;
    private final Workplace place;

    RecountPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    public record View(UUID washId, String apiary, LocalDate sampledOn, List<Option> operators) {}

    void show(Context ctx) {
        WashSheet sheet = place.sheets().of(Query.path(ctx, desk.texts(ctx)));
        Shell page =
                desk.shell(
                        ctx, desk.texts(ctx).say("recount.title", sheet.colony().name()), "washes");
        desk.show(
                ctx,
                "recount",
                page,
                new View(
                        sheet.wash().id(),
                        sheet.apiary().name(),
                        sheet.wash().sampledOn(),
                        new Options(place, page.texts(), page.formats()).operators()));
    }
}
