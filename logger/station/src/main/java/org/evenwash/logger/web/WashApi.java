package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.OPERATOR;
import static org.evenwash.logger.web.Route.get;
import static org.evenwash.logger.web.Route.post;

import io.javalin.http.Context;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.Handling;
import org.evenwash.logger.store.MiteCount;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.QueenCheck;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.NewWash;
import org.evenwash.logger.wash.SampleEntry;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.Pass;
import org.evenwash.record.Position;

/** The part of the HTTP interface that concerns washes: plan, sample, ticket, cycles, counts. */
final class WashApi {
    private static final int MOST_MITES = 100_000;
    private static final double MOST_BEES = 100_000;
    private static final int LONGEST_REMARK = 2_000;
    private static final int LONGEST_WHY = 400;
    private static final int ROWS = 100;

    private final FrontDesk desk;
    private final Workplace place;

    WashApi(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    List<Route> routes() {
        return List.of(
                get("/api/washes", OPERATOR, this::list),
                post("/api/washes", OPERATOR, this::plan),
                get("/api/washes/{id}", OPERATOR, this::wash),
                post("/api/washes/{id}/sample", OPERATOR, this::sample),
                post("/api/washes/{id}/passes", OPERATOR, this::pass),
                post("/api/washes/{id}/tickets", OPERATOR, this::ticket),
                post("/api/washes/{id}/counts", OPERATOR, this::count),
                post("/api/counts/{id}/correction", OPERATOR, this::correct),
                post("/api/tickets/{id}/withdraw", OPERATOR, this::withdraw),
                get("/api/cycles/unassigned", OPERATOR, this::unassigned),
                get("/api/cycles/{id}", OPERATOR, this::cycle),
                post("/api/cycles/{id}/attach", OPERATOR, this::attach));
    }

    private UUID id(Context ctx) {
        return Query.path(ctx, desk.texts(ctx));
    }

    private void list(Context ctx) {
        Query query = new Query(ctx, desk.texts(ctx));
        WashFilter filter = new WashFilter(query.id("apiaryId"), query.id("colonyId"), null, null);
        int number = query.wholeNumber("page", 1, 1_000_000, 1);
        ctx.json(place.washes().list(filter, new Page(number, ROWS)));
    }

    private void wash(Context ctx) {
        ctx.json(WashDocument.of(place.sheets().of(id(ctx))));
    }

    /** Plans a wash; where a bench is named, its ticket goes out too. */
    private void plan(Context ctx) {
        Input in = desk.input(ctx);
        NewWash planned =
                new NewWash(
                        in.id("colonyId"),
                        in.optionalDate("sampledOn"),
                        in.optionalId("operatorId"),
                        in.optionalChoice("frame", Frame.class),
                        in.optionalChoice("queenCheck", QueenCheck.class),
                        in.optionalText("remarks", LONGEST_REMARK),
                        false);
        Double bees = in.optionalNumber("bees", 1, MOST_BEES);
        BeeMeasure measure = in.optionalChoice("beeMeasure", BeeMeasure.class);
        UUID spirit = in.optionalId("spiritBatchId");
        TicketWish ticket = in.has("benchId") ? TicketWish.of(in) : null;
        By by = Api.by(ctx, in);
        in.check();
        Wash wash = place.washes().plan(planned, by);
        if (bees != null && wash.bees() == null) {
            BeeMeasure how = measure == null ? BeeMeasure.NOT_STATED : measure;
            place.washes()
                    .enterBees(
                            wash.id(),
                            wash.version(),
                            how,
                            bees,
                            null,
                            null,
                            null,
                            part(by, "bees"));
        }
        if (spirit != null) {
            place.washes().enterPass(wash.id(), Pass.FIRST, spirit, null, part(by, "spirit"));
        }
        if (ticket != null) {
            ticket.issue(place, wash.id(), part(by, "ticket"));
        }
        Answer.created(ctx, page(wash.id()), place.washes().wash(wash.id()));
    }

    /** One request of several steps: each step has a key of its own, made from the request's. */
    private static By part(By by, String step) {
        return by.key() == null ? by : by.once(by.key() + "/" + step);
    }

    private static String page(UUID washId) {
        return "/washes/" + washId;
    }

    private void sample(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        long version = in.wholeNumber("version", 1, Integer.MAX_VALUE);
        SampleForm.Entered entered =
                SampleForm.read(in, place.washes().wash(id), place.beeEstimates());
        String why = in.optionalText("why", LONGEST_WHY);
        By by = Api.by(ctx, in);
        in.check();
        Wash wash = place.washes().enterSample(id, version, entered.sample(), why, by);
        if (entered.calibrationId() != null) {
            place.beeEstimates().note(id, entered.calibrationId());
        }
        Answer.done(ctx, page(id), wash);
    }

    private void pass(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        Pass kind = in.choiceOr("pass", Pass.FIRST);
        UUID spirit = in.optionalId("spiritBatchId");
        Double byHand_s = in.optionalNumber("handAgitation_s", 1, 14_400);
        By by = Api.by(ctx, in);
        in.check();
        Answer.done(ctx, page(id), place.washes().enterPass(id, kind, spirit, byHand_s, by));
    }

    private void ticket(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        TicketWish wish = TicketWish.of(in);
        By by = Api.by(ctx, in);
        in.check();
        Answer.created(ctx, page(id), wish.issue(place, id, by));
    }

    private void withdraw(Context ctx) {
        Input in = desk.input(ctx);
        By by = Api.by(ctx, in);
        in.check();
        var ticket = place.tickets().withdraw(id(ctx), by);
        Answer.done(ctx, page(ticket.washId()), ticket);
    }

    /** The mites of a pass and, where they are given with it, bees and handling of the sample. */
    private void count(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        int mites = in.wholeNumber("mites", 0, MOST_MITES);
        Pass pass = in.choiceOr("pass", Pass.FIRST);
        Double bees = in.optionalNumber("bees", 1, MOST_BEES);
        BeeMeasure measure = in.choiceOr("beeMeasure", BeeMeasure.COUNTED);
        boolean recount = in.yes("recount");
        boolean blind = in.yes("blind");
        UUID countedBy = Api.countedBy(ctx, in, recount && blind);
        Integer version = in.optionalWholeNumber("version", 1, Integer.MAX_VALUE);
        By asked = Api.by(ctx, in);
        By by = asked.operatorId() == null ? new By(countedBy, asked.key()) : asked;
        Wash before = place.washes().wash(id);
        Handling handling = HandlingForm.read(in, before.handling());
        in.check();
        SampleEntry sample = SampleEntry.of(before).withHandling(handling);
        boolean same = before.bees() != null && before.bees().equals(bees);
        if (bees != null && !(same && before.beeMeasure() == measure)) {
            sample = sample.withBees(measure, bees, null, countedBy);
        }
        enterSample(before, version, sample, part(by, "bees"));
        MiteCount count =
                recount
                        ? place.counting().recount(id, pass, mites, countedBy, blind, by)
                        : place.counting().enter(id, pass, mites, countedBy, by);
        Answer.created(ctx, page(id), count);
    }

    /** Nothing is written where the same is there already. */
    private void enterSample(Wash before, Integer version, SampleEntry sample, By by) {
        if (!sample.equals(SampleEntry.of(before))) {
            long seen = version == null ? before.version() : version;
            place.washes().enterSample(before.id(), seen, sample, "with the count", by);
        }
    }

    private void correct(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        long version = in.wholeNumber("version", 1, Integer.MAX_VALUE);
        int mites = in.wholeNumber("mites", 0, MOST_MITES);
        String why = in.text("why", LONGEST_WHY);
        By by = Api.by(ctx, in);
        in.check();
        MiteCount count = place.counting().correct(id, version, mites, why, by);
        UUID washId = place.counting().washOf(count);
        Answer.done(ctx, page(washId), count);
    }

    private void unassigned(Context ctx) {
        ctx.json(place.cycles().unassigned(Page.first(ROWS)));
    }

    private void cycle(Context ctx) {
        ctx.json(place.cycles().record(id(ctx)));
    }

    private void attach(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        int position = in.wholeNumber("position", 1, Position.MOST);
        UUID washId = in.id("washId");
        Pass pass = in.choice("pass", Pass.class);
        By by = Api.by(ctx, in);
        in.check();
        place.cycles().attach(id, position, washId, pass, by);
        Answer.done(ctx, page(washId), place.cycles().cycle(id));
    }

    /** A ticket as a form asks for it. */
    private record TicketWish(
            String benchId, int position, Pass pass, String recipeId, int recipeVersion) {

        static TicketWish of(Input in) {
            String bench = in.text("benchId", 32);
            Integer position = in.optionalWholeNumber("position", 1, Position.MOST);
            Pass pass = in.choiceOr("pass", Pass.FIRST);
            RecipeChoice recipe = RecipeChoice.of(in);
            return new TicketWish(
                    bench, position == null ? 1 : position, pass, recipe.id(), recipe.version());
        }

        Object issue(Workplace place, UUID washId, By by) {
            return place.tickets()
                    .issue(washId, pass, benchId, position, recipeId, recipeVersion, by);
        }
    }
}
