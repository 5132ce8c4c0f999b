package org.evenwash.logger.web;

import io.javalin.http.Context;

/** What every answer tells the browser that it may not do. */
final class AnswerHeaders {
    /** Nothing but our own files; no script or style within a page. */
    private static final String CONTENT_POLICY =
            "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self';"
                    + " img-src 'self' data:; connect-src 'self'; form-action 'self';"
                    + " base-uri 'none'; frame-ancestors 'none'";

    private AnswerHeaders() {}

    static void set(Context ctx, boolean secure) {
        ctx.header("Content-Security-Policy", CONTENT_POLICY);
        ctx.header("X-Content-Type-Options", "nosniff");
        ctx.header("Referrer-Policy", "same-origin");
        ctx.header("Cross-Origin-Opener-Policy", "same-origin");
        ctx.header("Cross-Origin-Resource-Policy", "same-origin");
        ctx.header("Permissions-Policy", "camera=(), geolocation=(), microphone=()");
        if (secure) {
            ctx.header("Strict-Transport-Security", "max-age=31536000");
        }
        if (!ctx.path().startsWith("/assets/")) {
            ctx.header("Cache-Control", "no-store");
        }
    }
}
