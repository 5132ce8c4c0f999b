package org.evenwash.logger.web;

import gg.jte.TemplateEngine;
import gg.jte.output.StringOutput;
import io.javalin.http.Context;
import java.time.ZoneId;
import java.util.Map;
import java.util.OptionalLong;
import java.util.function.BooleanSupplier;
import java.util.function.LongSupplier;

/** What every handler has at hand: the reader's words and numbers, the shell, the templates. */
final class FrontDesk {
    /** From here on each page says so: long before the broker stops at 200 MB. */
    static final long LITTLE_ROOM_B = 1L << 30;

    private final TemplateEngine templates;
    private final Guard guard;
    private final Renewal renewal;
    private final boolean demonstration;
    private final LongSupplier freeRoom_B;
    private final ZoneId home;

    /**
     * @param home zone for what happened at no apiary, such as a cycle without a wash
     */
    FrontDesk(
            TemplateEngine templates,
            Guard guard,
            Renewal renewal,
            boolean demonstration,
            LongSupplier freeRoom_B,
            ZoneId home) {
        this.templates = templates;
        this.guard = guard;
        this.renewal = renewal;
        this.demonstration = demonstration;
        this.freeRoom_B = freeRoom_B;
        this.home = home;
    }

    boolean demonstration() {
        return demonstration;
    }

    Texts texts(Context ctx) {
        return Texts.in(ctx.req().getLocale());
    }

    Formats formats(Context ctx) {
        return new Formats(ctx.req().getLocale(), home);
    }

    /** Reads the body of a write. */
    Input input(Context ctx) {
        return Input.of(ctx, texts(ctx));
    }

    String token(Context ctx) {
        return guard.token(ctx);
    }

    /** See {@link Guard#stillIn}. */
    BooleanSupplier stillIn(Context ctx) {
        return guard.stillIn(ctx);
    }

    Shell shell(Context ctx, String title, String active) {
        return new Shell(
                title,
                active,
                texts(ctx),
                formats(ctx),
                token(ctx),
                Visit.of(ctx),
                renewal.due().orElse(null),
                demonstration,
                littleRoom_MB());
    }

    /** Empty while there is room enough. */
    private OptionalLong littleRoom_MB() {
        long room_B = freeRoom_B.getAsLong();
        return room_B < LITTLE_ROOM_B ? OptionalLong.of(room_B >> 20) : OptionalLong.empty();
    }

    /** Answers with a page whose template wants only the shell. */
    void show(Context ctx, String template, Shell page) {
        ctx.html(render(template, Map.of("page", page)));
    }

    void show(Context ctx, String template, Shell page, Object view) {
        ctx.html(render(template, Map.of("page", page, "view", view)));
    }

    String render(String template, Map<String, Object> parameters) {
        StringOutput out = new StringOutput(8_192);
        templates.render(template + ".jte", parameters, out);
        return out.toString();
    }

    /** A browser that follows links and forms, rather than a program or our own script. */
    static boolean wantsPage(Context ctx) {
        String accept = ctx.header("Accept");
        return !ctx.path().startsWith("/api/") || (accept != null && accept.contains("text/html"));
    }
}
