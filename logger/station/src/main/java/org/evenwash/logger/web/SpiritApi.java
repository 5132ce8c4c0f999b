package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.OPERATOR;
import static org.evenwash.logger.web.Route.get;
import static org.evenwash.logger.web.Route.post;

import io.javalin.http.Context;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.evenwash.logger.store.SpiritUse;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.SpiritAccount;
import org.evenwash.logger.wash.Workplace;

/** The part of the HTTP interface that follows a batch of spirit through its uses. */
final class SpiritApi {
    private static final int LONGEST_REMARK = 2_000;
    private static final int LONGEST_WHY = 400;

    private final FrontDesk desk;
    private final Workplace place;

    SpiritApi(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    List<Route> routes() {
        return List.of(
                get("/api/spirit-batches/{id}", OPERATOR, this::account),
                post("/api/spirit-batches/{id}/uses", OPERATOR, this::note),
                post("/api/spirit-batches/{id}/discard", OPERATOR, this::discard),
                post("/api/spirit-uses/{id}/remove", OPERATOR, this::remove));
    }

    private UUID id(Context ctx) {
        return Query.path(ctx, desk.texts(ctx));
    }

    private static String page(UUID id) {
        return "/spirit/" + id;
    }

    private SpiritAccount account(UUID id) {
        return place.spirit().account(id, place.standards().protocol(null));
    }

    private void account(Context ctx) {
        SpiritAccount account = account(id(ctx));
        Map<String, Object> document = new LinkedHashMap<>();
        document.put("batch", account.batch());
        document.put("washes", account.washes());
        account.ledger()
                .ifPresent(
                        now -> {
                            document.put("volume_mL", now.volume_mL());
                            document.put("weakest_pctVol", now.weakest().percentVol());
                            document.put("strongest_pctVol", now.strongest().percentVol());
                        });
        account.flashPoint_C().ifPresent(point -> document.put("flashPoint_C", point));
        document.put("murky", account.murky());
        document.put("uses", account.uses());
        document.put("blanks", account.blanks());
        ctx.json(document);
    }

    /** Strength is asked for with a top-up: without it nobody knows what is in the jar. */
    private void note(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        SpiritUse.Kind kind = in.choice("use", SpiritUse.Kind.class);
        boolean topUp = kind == SpiritUse.Kind.TOP_UP;
        Double volume_mL =
                topUp || kind == SpiritUse.Kind.LOSS
                        ? Double.valueOf(in.number("volume_mL", 0.1, 1_000_000))
                        : null;
        Double strength_pctVol =
                topUp ? Double.valueOf(in.number("strength_pctVol", 0, 100)) : null;
        String remarks = in.optionalText("remarks", LONGEST_REMARK);
        By by = Api.by(ctx, in);
        in.check();
        place.spirit().note(id, kind, volume_mL, strength_pctVol, remarks, by);
        Answer.created(ctx, page(id), place.spirit().batch(id));
    }

    private void discard(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        long version = in.wholeNumber("version", 1, Integer.MAX_VALUE);
        LocalDate onDay = in.optionalDate("onDay");
        By by = Api.by(ctx, in);
        in.check();
        Answer.done(ctx, page(id), place.spirit().discard(id, version, onDay, by));
    }

    private void remove(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        String why = in.text("why", LONGEST_WHY);
        By by = Api.by(ctx, in);
        in.check();
        UUID batch = place.spirit().removeNote(id, why, by);
        Answer.done(ctx, page(batch), place.spirit().batch(batch));
    }
}
