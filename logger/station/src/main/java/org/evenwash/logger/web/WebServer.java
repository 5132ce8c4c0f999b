package org.evenwash.logger.web;

import static org.evenwash.logger.web.Route.get;

import gg.jte.ContentType;
import gg.jte.TemplateEngine;
import io.javalin.Javalin;
import io.javalin.config.JavalinConfig;
import io.javalin.http.sse.SseHandler;
import io.javalin.json.JavalinJackson;
import java.net.URI;
import java.time.Clock;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import org.evenwash.logger.Station;
import org.evenwash.logger.intake.BenchBoard;
import org.evenwash.logger.intake.Replay;
import org.evenwash.logger.secret.PersonPassword;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.tls.Identity;
import org.evenwash.logger.wash.Workplace;

/**
 * The logger's pages and its HTTP interface on one port. Every route stands in the route table with its
 * rule beside it; what is not in the table is not served.
 */
public final class WebServer implements AutoCloseable {
    /** Largest request body, bytes: a form with its remarks is far below. */
    static final int LARGEST_BODY = 64 * 1_024;

    private final Javalin server;
    private final WebSettings settings;
    private final List<Route> routes;
    private final BenchStream stream;
    private final DataDoor data;
    private final List<String> pages;

    private WebServer(
            Javalin server,
            WebSettings settings,
            List<Route> routes,
            List<String> pages,
            BenchStream stream,
            DataDoor data) {
        this.server = server;
        this.settings = settings;
        this.routes = List.copyOf(routes);
        this.pages = pages;
        this.stream = stream;
        this.data = data;
    }

    /**
     * Serves a running station.
     *
     * @throws io.javalin.util.JavalinBindException if the port is taken
     * @throws org.evenwash.logger.StationTrouble if the settings would let strangers in
     */
    public static WebServer start(Station station, WebSettings settings) {
        return start(
                station.database(),
                station.workplace(),
                station.board(),
                settings,
                Surroundings.of(station));
    }

    /** Serves a database without a station around it, such as for a benchmark. */
    public static WebServer start(
            Database database, Workplace place, BenchBoard board, WebSettings settings) {
        return start(
                database,
                place,
                board,
                settings,
                Surroundings.of(
                        database, Clock.systemUTC(), new PersonPassword(), () -> Long.MAX_VALUE));
    }

    /**
     * @param board what benches say at this moment
     */
    static WebServer start(
            Database database,
            Workplace place,
            BenchBoard board,
            WebSettings settings,
            Surroundings around) {
        Doors doors = around.doors();
        Clock clock = around.clock();
        Exposure.check(settings, doors);
        Guard guard = new Guard(settings, doors);
        ZoneId home = ZoneId.systemDefault();
        Renewal renewal = new Renewal(certificates(settings, around), clock);
        FrontDesk desk =
                new FrontDesk(
                        templates(),
                        guard,
                        renewal,
                        database.demonstration(),
                        around.freeRoom_B(),
                        home);
        Latencies latencies = new Latencies();
        Figures figures =
                new Figures(
                        database,
                        board,
                        around.health(),
                        around.committed(),
                        around.freeRoom_B(),
                        renewal,
                        latencies);
        BenchPage benches = new BenchPage(desk, place, board);
        BenchStream stream = new BenchStream(desk, place, benches, board);
        Replay replay = new Replay(database, clock);
        DataDoor data = new DataDoor(desk, database, place);
        List<Route> pages = new ArrayList<>(new Pages(desk, database, place, benches).routes());
        pages.addAll(data.pages());
        List<Route> routes = new ArrayList<>(pages);
        routes.addAll(data.api());
        routes.add(get("/bench/live", Access.OPERATOR, new SseHandler(stream::open)));
        routes.addAll(new Api(desk, place, replay).routes());
        routes.addAll(new WashApi(desk, place).routes());
        routes.addAll(WorkRoutes.of(desk, place));
        routes.addAll(DoorRoutes.of(desk, place, guard, doors));
        routes.addAll(new HealthPages(around.health(), figures).routes());
        routes.addAll(new Assets().routes());
        Javalin server =
                Javalin.create(
                        config -> {
                            limits(config);
                            Listening.on(config.jetty, settings);
                            Senders.bound(config.jetty);
                            config.jsonMapper(new JavalinJackson(ApiJson.mapper(), false));
                            config.requestLogger.http(
                                    (ctx, took_ms) ->
                                            latencies.note(took_ms / 1e3, ctx.statusCode()));
                            config.routes.before(guard::before);
                            for (Route route : routes) {
                                config.routes.addHttpHandler(
                                        route.method(), route.path(), guard.admitting(route));
                            }
                            new Problems(desk, () -> Names.of(place)).register(config.routes);
                        });
        List<String> paths = pages.stream().map(Route::path).toList();
        WebServer started = new WebServer(server.start(), settings, routes, paths, stream, data);
        renewal.due();
        return started;
    }

    /** Paths of all pages as in the route table, such as {@code /washes/{id}}. */
    public List<String> pages() {
        return pages;
    }

    private static List<Identity> certificates(WebSettings settings, Surroundings around) {
        List<Identity> all = new ArrayList<>(around.certificates());
        if (settings.identity() != null) {
            all.add(settings.identity());
        }
        return all;
    }

    private static TemplateEngine templates() {
        return TemplateEngine.createPrecompiled(
                null,
                ContentType.Html,
                WebServer.class.getClassLoader(),
                "org.evenwash.logger.web.pages");
    }

    private static void limits(JavalinConfig config) {
        config.startup.showJavalinBanner = false;
        config.startup.showOldJavalinVersionWarning = false;
        config.http.maxRequestSize = LARGEST_BODY;
        Uploads.limits(config);
        config.http.prefer405over404 = true;
        config.router.ignoreTrailingSlashes = true;
    }

    public int port() {
        return server.port();
    }

    /** The whole route table. */
    List<Route> routes() {
        return routes;
    }

    /** Where a browser finds the pages. */
    public URI address() {
        String host = settings.host();
        String name = host.equals("0.0.0.0") || host.equals("::") ? "localhost" : host;
        return URI.create(
                (settings.identity() == null ? "http://" : "https://")
                        + (name.contains(":") ? "[" + name + "]" : name)
                        + ":"
                        + port());
    }

    @Override
    public void close() {
        stream.close();
        server.stop();
        data.close();
    }
}
