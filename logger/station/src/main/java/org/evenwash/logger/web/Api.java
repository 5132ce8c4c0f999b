package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.EVERYBODY;
import static org.evenwash.logger.web.Access.KEEPER;
import static org.evenwash.logger.web.Access.OPERATOR;
import static org.evenwash.logger.web.Access.REVIEWER;
import static org.evenwash.logger.web.Route.get;
import static org.evenwash.logger.web.Route.post;

import io.javalin.http.Context;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.evenwash.logger.intake.Replay;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.Refused;
import org.evenwash.logger.wash.SpiritShelf;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.logger.wash.Yard;

/**
 * The HTTP interface: apiaries, colonies, people, spirit and benches. Forms of the pages post here
 * too. What concerns washes stands in {@link WashApi}; {@code openapi.yaml} describes both.
 */
final class Api {
    static final int LONGEST_NAME = Yard.LONGEST_NAME;
    private static final String DESCRIPTION = "/web/openapi.yaml";

    private final FrontDesk desk;
    private final Workplace place;
    private final Replay replay;

    Api(FrontDesk desk, Workplace place, Replay replay) {
        this.desk = desk;
        this.place = place;
        this.replay = replay;
    }

    List<Route> routes() {
        return List.of(
                get("/api/openapi.yaml", OPERATOR, Api::description),
                get("/api/session", EVERYBODY, this::session),
                get("/api/apiaries", OPERATOR, ctx -> ctx.json(place.yard().apiaries())),
                post("/api/apiaries", REVIEWER, this::addApiary),
                get("/api/apiaries/{id}/colonies", OPERATOR, this::colonies),
                post("/api/colonies", OPERATOR, this::addColony),
                get("/api/operators", OPERATOR, ctx -> ctx.json(place.yard().operators())),
                post("/api/operators", KEEPER, this::addOperator),
                get("/api/spirit-batches", OPERATOR, ctx -> ctx.json(place.spirit().batches())),
                post("/api/spirit-batches", OPERATOR, this::addSpirit),
                get("/api/recipes", OPERATOR, ctx -> ctx.json(place.recipes().current())),
                get("/api/benches", OPERATOR, this::benches),
                post("/api/benches/{bench}/hold", OPERATOR, this::hold),
                post("/api/benches/{bench}/stop", OPERATOR, this::stop),
                post("/api/standards", REVIEWER, this::choose),
                post("/api/set-aside/{id}/replay", REVIEWER, this::replay));
    }

    /**
     * In whose name, and under which key. Whoever is signed in signs; a program may name another person
     * with {@code by}. A request's key may come as a header or, from a form, as a field.
     */
    static By by(Context ctx, Input in) {
        String key = ctx.header("Idempotency-Key");
        if (key == null) {
            key = in.optionalText("idempotencyKey", 200);
        }
        Visit visit = Visit.of(ctx);
        UUID named = in.optionalId("by");
        boolean mayName = named != null && visit.kind() != Visit.Kind.SESSION;
        return new By(mayName ? named : visit.operatorId(), key);
    }

    /**
     * Who counted: the one who is signed in unless another is named. A blind recount is entered by its
     * counter alone, or nobody could tell who had seen the first count.
     */
    static UUID countedBy(Context ctx, Input in, boolean blind) {
        UUID named = in.optionalId("countedBy");
        Visit visit = Visit.of(ctx);
        if (named == null || visit.kind() != Visit.Kind.SESSION) {
            return named == null ? visit.operatorId() : named;
        }
        if (blind && !named.equals(visit.operatorId())) {
            in.mistake("countedBy", "bad.blind");
        }
        return named;
    }

    private static void description(Context ctx) {
        try (InputStream file = Api.class.getResourceAsStream(DESCRIPTION)) {
            ctx.contentType("application/yaml");
            ctx.result(new String(file.readAllBytes(), StandardCharsets.UTF_8));
        } catch (IOException e) {
            throw new UncheckedIOException("cannot read " + DESCRIPTION, e);
        }
    }

    private void session(Context ctx) {
        String account = desk.shell(ctx, "", "").account();
        ctx.json(Map.of("csrf", desk.token(ctx), "account", account == null ? "" : account));
    }

    private void addApiary(Context ctx) {
        Input in = desk.input(ctx);
        String name = in.text("name", LONGEST_NAME);
        String zone = in.timeZone("timeZone");
        Hemisphere hemisphere = in.choice("hemisphere", Hemisphere.class);
        By by = by(ctx, in);
        in.check();
        Answer.created(ctx, "/colonies", place.yard().addApiary(name, zone, hemisphere, by));
    }

    private void colonies(Context ctx) {
        ctx.json(place.yard().colonies(Query.path(ctx, desk.texts(ctx))));
    }

    private void addColony(Context ctx) {
        Input in = desk.input(ctx);
        var apiary = in.id("apiaryId");
        String name = in.text("name", LONGEST_NAME);
        By by = by(ctx, in);
        in.check();
        Answer.created(ctx, "/colonies", place.yard().addColony(apiary, name, by));
    }

    private void addOperator(Context ctx) {
        Input in = desk.input(ctx);
        String name = in.text("name", LONGEST_NAME);
        By by = by(ctx, in);
        in.check();
        Answer.created(ctx, "/operators", place.yard().addOperator(name, by));
    }

    private void addSpirit(Context ctx) {
        Input in = desk.input(ctx);
        SpiritShelf.NewBatch batch = SpiritForm.read(in);
        By by = by(ctx, in);
        in.check();
        Answer.created(ctx, "/spirit", place.spirit().addBatch(batch, by));
    }

    private void benches(Context ctx) {
        ctx.json(place.benches().benches().stream().map(BenchLine::of).toList());
    }

    /** A bench without the hash of its password. */
    private record BenchLine(String id, String name, boolean simulated, Instant lastSeenAt) {
        static BenchLine of(org.evenwash.logger.store.Bench bench) {
            return new BenchLine(bench.id(), bench.name(), bench.simulated(), bench.lastSeenAt());
        }
    }

    private void hold(Context ctx) {
        Input in = desk.input(ctx);
        var cycle = in.id("cycleId");
        in.check();
        place.benches().hold(ctx.pathParam("bench"), cycle);
        Answer.said(ctx, "/", desk.texts(ctx).say("bench.hold.says"));
    }

    private void stop(Context ctx) {
        Input in = desk.input(ctx);
        var cycle = in.id("cycleId");
        in.check();
        place.benches().stop(ctx.pathParam("bench"), cycle);
        Answer.said(ctx, "/", desk.texts(ctx).say("bench.stop.says"));
    }

    /** Chooses what washes are judged by, for one apiary or for all that have no choice of their own. */
    private void choose(Context ctx) {
        Input in = desk.input(ctx);
        UUID apiary = in.optionalId("apiaryId");
        String protocol = in.optionalText("protocolId", LONGEST_NAME);
        String threshold = in.optionalText("thresholdId", LONGEST_NAME);
        boolean drop = in.yes("noThreshold");
        By by = by(ctx, in);
        in.check();
        if (protocol != null) {
            place.standards().chooseProtocol(protocol, apiary, by.once(keyOf(by, "protocol")));
        }
        if (drop) {
            place.standards().dropThreshold(apiary, by.once(keyOf(by, "drop")));
        } else if (threshold != null) {
            place.standards().chooseThreshold(threshold, apiary, by.once(keyOf(by, "threshold")));
        }
        Answer.said(ctx, "/standards", desk.texts(ctx).say("standards.done"));
    }

    /** One request of two steps: each has a key of its own. */
    private static String keyOf(By by, String step) {
        return by.key() == null ? null : by.key() + "/" + step;
    }

    private void replay(Context ctx) {
        UUID id = Query.path(ctx, desk.texts(ctx));
        String result = replay.again(id).orElseThrow(() -> Refused.notFound("message", id));
        Answer.said(ctx, "/set-aside", result);
    }
}
