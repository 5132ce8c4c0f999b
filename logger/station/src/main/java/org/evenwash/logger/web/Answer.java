package org.evenwash.logger.web;

import io.javalin.http.Context;
import io.javalin.http.HttpStatus;
import java.util.LinkedHashMap;
import java.util.Map;

/** What a write is answered with: the page to go to for a browser, a body for a program. */
final class Answer {
    private Answer() {}

    /** 201 with the thing made; a browser goes to {@code page}. */
    static void created(Context ctx, String page, Object thing) {
        answer(ctx, 201, page, "result", thing);
    }

    /** 200 with the thing as it is now; a browser goes to {@code page}. */
    static void done(Context ctx, String page, Object thing) {
        answer(ctx, 200, page, "result", thing);
    }

    /** 202: the work goes on; {@code page} tells how far it is. */
    static void accepted(Context ctx, String page, Object thing) {
        answer(ctx, 202, page, "result", thing);
    }

    /** 200 with a sentence for the person who asked. */
    static void said(Context ctx, String page, String message) {
        answer(ctx, 200, page, "message", message);
    }

    private static void answer(Context ctx, int status, String page, String name, Object value) {
        if (FrontDesk.wantsPage(ctx)) {
            ctx.redirect(page, HttpStatus.SEE_OTHER);
            return;
        }
        Map<String, Object> body = new LinkedHashMap<>();
        body.put("page", page);
        body.put(name, value);
        ctx.status(status);
        ctx.json(body);
    }
}
