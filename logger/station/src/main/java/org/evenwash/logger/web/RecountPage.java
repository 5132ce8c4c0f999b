package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.wash.WashSheet;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.Pass;

/** {@code /washes/{id}/recount}: another count of any pass, on a page that shows none before it. */
public final class RecountPage {
    private final FrontDesk desk;
    private final Workplace place;

    RecountPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    public record View(
            UUID washId, String apiary, LocalDate sampledOn, Pass pass, List<Option> operators) {}

    void show(Context ctx) {
        Input in = Input.ofQuery(ctx, desk.texts(ctx));
        Pass pass = in.choiceOr("pass", Pass.FIRST);
        in.check();
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
                        pass,
                        new Options(place, page.texts(), page.formats()).operators()));
    }
}
