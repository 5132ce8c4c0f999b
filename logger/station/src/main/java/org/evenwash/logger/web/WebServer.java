package org.evenwash.logger.web;

import gg.jte.ContentType;
import gg.jte.TemplateEngine;
import io.javalin.Javalin;
import io.javalin.config.JavalinConfig;
import io.javalin.json.JavalinJackson;
import java.net.URI;
import java.time.Clock;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.function.LongSupplier;
import org.evenwash.logger.Station;
import org.evenwash.logger.intake.BenchBoard;
import org.evenwash.logger.intake.Replay;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.wash.Workplace;

/**
 * The logger's pages and its HTTP interface on one port. Every route stands in {@link
 * Pages#routes()} or {@link Api#routes()} and {@link WashApi#routes()}.
 */
public final class WebServer implements AutoCloseable {
    /** Largest request body, bytes: a form with its remarks is far below. */
    static final int LARGEST_BODY = 64 * 1_024;

    private final Javalin server;
    private final String host;
    private final List<Route> routes;
    private final BenchStream stream;
    private final DataDoor data;
    private final List<String> pages;

    private WebServer(
            Javalin server,
            String host,
            List<Route> routes,
            List<String> pages,
            BenchStream stream,
            DataDoor data) {
        this.server = server;
        this.host = host;
        this.routes = List.copyOf(routes);
        this.stream = stream;
        this.data = data;
        this.pages = pages;
    }

    /** Serves a running station. */
    public static WebServer start(Station station, WebSettings settings) {
        return start(
                station.database(),
                station.workplace(),
                station.board(),
                station::freeRoom_B,
                settings);
    }

    /**
     * Starts to serve.
     *
     * @param board what benches say at this moment
     * @param freeRoom_B what may still be written to the disk, asked for each page
     * @throws io.javalin.util.JavalinBindException if the port is taken
     */
    public static WebServer start(
            Database database,
            Workplace place,
            BenchBoard board,
            LongSupplier freeRoom_B,
            WebSettings settings) {
        Guard guard = new Guard(settings.hosts());
        ZoneId home = ZoneId.systemDefault();
        FrontDesk desk = new FrontDesk(templates(), guard, database.demonstration(), freeRoom_B, home);
        BenchPage benches = new BenchPage(desk, place, board);
        BenchStream stream = new BenchStream(desk, place, benches, board);
        Replay replay = new Replay(database, Clock.systemUTC());
        DataDoor data = new DataDoor(desk, database, place);
        List<Route> pages = new ArrayList<>(new Pages(desk, database, place, benches).routes());
        pages.addAll(data.pages());
        List<Route> routes = new ArrayList<>(pages);
        routes.addAll(data.api());
        routes.addAll(new Api(desk, place, replay).routes());
        routes.addAll(new WashApi(desk, place).routes());
        routes.addAll(WorkRoutes.of(desk, place));
        routes.addAll(new Assets().routes());
        Javalin server =
                Javalin.create(
                        config -> {
                            limits(config);
                            config.jetty.host = settings.host();
                            config.jetty.port = settings.port();
                            config.jsonMapper(new JavalinJackson(ApiJson.mapper(), false));
                            config.routes.before(guard::before);
                            for (Route route : routes) {
                                config.routes.addHttpHandler(
                                        route.method(), route.path(), route.handler());
                            }
                            config.routes.sse("/bench/live", stream::open);
                            new Problems(desk, () -> Names.of(place)).register(config.routes);
                        });
        List<String> paths = pages.stream().map(Route::path).toList();
        return new WebServer(server.start(), settings.host(), routes, paths, stream, data);
    }

    /** Paths of all pages as in the route table, such as {@code /washes/{id}}. */
    public List<String> pages() {
        return pages;
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

    /** The route table, but for the one stream of live readings. */
    List<Route> routes() {
        return routes;
    }

    public int port() {
        return server.port();
    }

    /** Where a browser finds the pages. */
    public URI address() {
        String name = host.equals("0.0.0.0") || host.equals("::") ? "localhost" : host;
        return URI.create(
                "http://" + (name.contains(":") ? "[" + name + "]" : name) + ":" + port());
    }

    @Override
    public void close() {
        stream.close();
        server.stop();
        data.close();
    }
}
