package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.evenwash.record.Messages;

/**
 * Styles, scripts and type, read once. A list of files rather than folders: nothing else can be asked
 * for, and it works from any jar (archives often lack entries for their folders).
 */
final class Assets {
    private static final String WEBJARS = "/META-INF/resources/webjars/";
    private static final String TYPE = "/web/fonts/atkinson-hyperlegible-";

    private static final Map<String, String> FILES =
            Map.of(
                    "css/evenwash.css", "/web/css/evenwash.css",
                    "css/mark.svg", "/web/css/mark.svg",
                    "js/forms.js", "/web/js/forms.js",
                    "htmx/htmx.min.js", WEBJARS + "htmx.org/2.0.10/dist/htmx.min.js",
                    "htmx-sse/sse.js", WEBJARS + "htmx-ext-sse/2.2.2/sse.js",
                    "fonts/latin-400.woff2", TYPE + "latin-400-normal.woff2",
                    "fonts/latin-700.woff2", TYPE + "latin-700-normal.woff2",
                    "fonts/latin-ext-400.woff2", TYPE + "latin-ext-400-normal.woff2",
                    "fonts/latin-ext-700.woff2", TYPE + "latin-ext-700-normal.woff2");

    private static final Map<String, String> TYPES =
            Map.of(
                    "css", "text/css; charset=utf-8",
                    "js", "text/javascript; charset=utf-8",
                    "svg", "image/svg+xml",
                    "woff2", "font/woff2");

    /** A file as it is served. */
    private static final class Asset {
        private final byte[] bytes;
        private final String type;
        private final String tag;

        private Asset(byte[] bytes, String type) {
            this.bytes = bytes;
            this.type = type;
            this.tag = '"' + Messages.sha256(bytes) + '"';
        }
    }

    private final Map<String, Asset> assets = new LinkedHashMap<>();

    Assets() {
        FILES.forEach((name, resource) -> assets.put("/assets/" + name, read(resource)));
    }

    private static Asset read(String resource) {
        try (InputStream file = Assets.class.getResourceAsStream(resource)) {
            if (file == null) {
                throw new IllegalStateException("the program lacks its own file " + resource);
            }
            byte[] bytes = file.readAllBytes();
            String end = resource.substring(resource.lastIndexOf('.') + 1);
            return new Asset(bytes, TYPES.get(end));
        } catch (IOException e) {
            throw new UncheckedIOException("cannot read " + resource, e);
        }
    }

    List<Route> routes() {
        List<Route> routes = new ArrayList<>();
        assets.forEach(
                (path, asset) ->
                        routes.add(Route.get(path, Access.EVERYBODY, ctx -> serve(ctx, asset))));
        return routes;
    }

    private static void serve(Context ctx, Asset asset) {
        ctx.header("ETag", asset.tag);
        // Asked for again each time, and answered with 304: an update shows at once.
        ctx.header("Cache-Control", "no-cache");
        if (asset.tag.equals(ctx.header("If-None-Match"))) {
            ctx.status(304);
            return;
        }
        ctx.contentType(asset.type);
        ctx.result(asset.bytes);
    }
}
