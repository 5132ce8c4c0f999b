package org.evenwash.logger.web;

import gg.jte.ContentType;
import gg.jte.TemplateEngine;
import io.javalin.Javalin;
import io.javalin.config.JavalinConfig;
import io.javalin.http.staticfiles.Location;
import java.net.URI;
import java.time.ZoneId;
import java.util.List;
import java.util.stream.Stream;
import org.evenwash.logger.store.Database;

/**
 * The logger's pages and its HTTP interface on one port. Every route stands in {@link
 * Pages#routes()} or {@link Api#routes()}.
 */
public final class WebServer implements AutoCloseable {
    /** Largest request body, bytes: a form with its remarks is far below. */
    static final int LARGEST_BODY = 64 * 1_024;

    private static final String HTMX = "META-INF/resources/webjars/htmx.org/2.0.10/dist";
    private static final String HTMX_SSE = "META-INF/resources/webjars/htmx-ext-sse/2.2.2";

    private final Javalin server;
    private final String host;

    private WebServer(Javalin server, String host) {
        this.server = server;
        this.host = host;
    }

    /**
     * Starts to serve.
     *
     * @throws io.javalin.util.JavalinBindException if the port is taken
     */
    public static WebServer start(Database station, WebSettings settings) {
        TemplateEngine templates =
                TemplateEngine.createPrecompiled(
                        null,
                        ContentType.Html,
                        WebServer.class.getClassLoader(),
                        "org.evenwash.logger.web.pages");
        Guard guard = new Guard(settings.hosts());
        FrontDesk desk = new FrontDesk(templates, guard, station.demonstration(), ZoneId.systemDefault());
        List<Route> routes =
                Stream.concat(
                                new Pages(desk, station).routes().stream(),
                                new Api(desk, station).routes().stream())
                        .toList();
        Javalin server =
                Javalin.create(
                        config -> {
                            quiet(config);
                            assets(config);
                            config.jetty.host = settings.host();
                            config.jetty.port = settings.port();
                            config.routes.before(guard::before);
                            routes.forEach(
                                    route ->
                                            config.routes.addHttpHandler(
                                                    route.method(), route.path(), route.handler()));
                            new Problems(desk).register(config.routes);
                        });
        return new WebServer(server.start(), settings.host());
    }

    private static void quiet(JavalinConfig config) {
        config.startup.showJavalinBanner = false;
        config.startup.showOldJavalinVersionWarning = false;
        config.http.maxRequestSize = LARGEST_BODY;
        config.http.prefer405over404 = true;
        config.router.ignoreTrailingSlashes = true;
    }

    private static void assets(JavalinConfig config) {
        asset(config, "/assets/css", "/web/css");
        asset(config, "/assets/js", "/web/js");
        asset(config, "/assets/fonts", "/web/fonts");
        asset(config, "/assets/htmx", HTMX);
        asset(config, "/assets/htmx-sse", HTMX_SSE);
    }

    private static void asset(JavalinConfig config, String path, String directory) {
        config.staticFiles.add(
                files -> {
                    files.hostedPath = path;
                    files.directory = directory;
                    files.location = Location.CLASSPATH;
                });
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
        server.stop();
    }
}
