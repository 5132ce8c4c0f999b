package org.evenwash.logger.web;

import io.javalin.config.JettyConfig;
import org.eclipse.jetty.server.Handler;
import org.eclipse.jetty.server.NetworkConnectionLimit;
import org.eclipse.jetty.server.Request;
import org.eclipse.jetty.server.Response;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.handler.EagerContentHandler;
import org.eclipse.jetty.server.handler.EagerContentHandler.RetainedContentLoaderFactory.RetainedContentLoader;
import org.eclipse.jetty.server.handler.MinimumDataRateHandler;
import org.eclipse.jetty.util.Callback;

/**
 * Bounds on who sends slowly, or little over many connections. Each request has one of 250 threads from
 * when it is handed to a route; a body that trickles in while a route waits for it keeps one busy, and
 * a stranger needs no password to send slowly. So a body is collected first, without a thread, up to what
 * a form may have. What is larger goes to the routes under /api, which ask for a sign-in before they read
 * on; elsewhere it is refused.
 */
final class Senders {
    /**
     * Fifty phones with six connections each and a live stream fit in, and so many bodies half
     * collected are less than 40 MB.
     */
    static final int MOST_CONNECTIONS = 500;

    /** Bytes: a form, and what chunks of it take besides. */
    private static final int COLLECTED = WebServer.LARGEST_BODY + 8 * 1_024;

    /**
     * Bytes a second that have to come of a larger body: a photo of 400 kB over a network so slow that
     * it takes six minutes. Bodies that were collected have come already.
     */
    private static final int SLOWEST = 1_024;

    /**
     * Of connections on which nothing happens, milliseconds, once there are as many as may be. Longer
     * than the 15 s between two signs of life of a live stream.
     */
    private static final long IDLE_WHEN_FULL_MS = 20_000;

    private Senders() {}

    static void bound(JettyConfig jetty) {
        jetty.modifyServer(Senders::bound);
    }

    private static void bound(Server server) {
        NetworkConnectionLimit most = new NetworkConnectionLimit(MOST_CONNECTIONS, server);
        most.setEndPointIdleTimeout(IDLE_WHEN_FULL_MS);
        server.addBean(most);
        // The rate inside: a short form may take its time, which costs nothing.
        Handler rate = new MinimumDataRateHandler(SLOWEST, 0);
        server.insertHandler(new EagerContentHandler(rate, new Collected()));
    }

    /** The library's own collecting of a body, of any type; whether more is refused depends on the path. */
    private static final class Collected implements EagerContentHandler.ContentLoaderFactory {
        @Override
        public String getApplicableMimeType() {
            return null;
        }

        @Override
        public EagerContentHandler.ContentLoader newContentLoader(
                String contentType,
                String mimeType,
                Handler handler,
                Request request,
                Response response,
                Callback callback) {
            boolean noLarger = !Request.getPathInContext(request).startsWith("/api/");
            return new RetainedContentLoader(
                    handler, request, response, callback, COLLECTED, -1, noLarger);
        }
    }
}
