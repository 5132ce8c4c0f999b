package org.evenwash.logger.web;

import io.javalin.http.Context;
import io.javalin.http.Cookie;
import io.javalin.http.Handler;
import io.javalin.http.SameSite;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.Collections;
import java.util.Optional;
import java.util.Set;
import java.util.function.BooleanSupplier;
import org.evenwash.logger.access.FrontDoor;
import org.evenwash.logger.access.Person;
import org.evenwash.logger.secret.RandomSecret;
import org.evenwash.logger.tls.Loopback;

/**
 * What every request passes first: the host it was sent to, the headers of the answer, who it comes
 * from, the route's rule, and for a write the token that only our own pages can know.
 */
final class Guard {
    static final String TOKEN_HEADER = "X-CSRF-Token";
    static final String TOKEN_FIELD = "csrf";
    static final String SIGN_IN = "/sign-in";
    private static final String BEARER = "Bearer ";
    private static final Set<String> WRITES = Set.of("POST", "PUT", "PATCH", "DELETE");

    private final WebSettings settings;
    private final Doors doors;

    Guard(WebSettings settings, Doors doors) {
        this.settings = settings;
        this.doors = doors;
    }

    void before(Context ctx) {
        AnswerHeaders.set(ctx, secure());
        Texts texts = Texts.in(ctx.req().getLocale());
        String host = ctx.req().getServerName();
        if (!settings.hosts().contains(host)) {
            throw Problem.of(
                    421,
                    "host",
                    texts.say("bad.host", host),
                    texts.say(
                            "bad.host.remedy",
                            String.join(", ", settings.hosts().stream().sorted().toList())));
        }
        if (settings.behindProxy()
                && !"https".equals(ctx.header("X-Forwarded-Proto"))
                && !ctx.path().equals(HealthPages.UP_OR_DOWN)) {
            throw Problem.of(421, "proxy", texts.say("bad.proxy"), texts.say("bad.proxy.remedy"));
        }
        // Up or down is told without the database, which may be what is down.
        boolean upOrDown = ctx.path().equals(HealthPages.UP_OR_DOWN);
        (upOrDown ? Visit.STRANGER : identify(ctx)).keep(ctx);
    }

    private Visit identify(Context ctx) {
        String authorization = ctx.header("Authorization");
        if (authorization != null) {
            return doors.withToken(bearer(authorization))
                    .map(person -> new Visit(Visit.Kind.TOKEN, person))
                    .orElse(Visit.STRANGER);
        }
        Optional<Person> person = doors.withSession(ctx.cookie(cookieName()));
        if (person.isPresent()) {
            return new Visit(Visit.Kind.SESSION, person.get());
        }
        return doors.nobodyHasAPassword() && local(ctx) ? Visit.HOUSE : Visit.STRANGER;
    }

    private static String bearer(String authorization) {
        return authorization.startsWith(BEARER)
                ? authorization.substring(BEARER.length()).strip()
                : "";
    }

    /** Whether whoever asked may still read, for what goes on sending after it was let in. */
    BooleanSupplier stillIn(Context ctx) {
        Visit.Kind kind = Visit.of(ctx).kind();
        String secret = secret(ctx);
        String authorization = ctx.header("Authorization");
        return () ->
                switch (kind) {
                    case STRANGER -> false;
                    case HOUSE -> doors.nobodyHasAPassword();
                    case SESSION -> doors.front.counts(secret);
                    case TOKEN -> doors.withToken(bearer(authorization)).isPresent();
                };
    }

    /** A route with its rule before it. */
    Handler admitting(Route route) {
        return ctx -> {
            admit(ctx, route.access());
            if (ctx.isMultipartFormData() && !route.takesFiles()) {
                throw noFiles(ctx);
            }
            if (WRITES.contains(ctx.method().name()) && Visit.of(ctx).kind() != Visit.Kind.TOKEN) {
                checkToken(ctx);
            }
            route.handler().handle(ctx);
        };
    }

    /** Before the token, which stands in such a form among its files: reading it would store them. */
    private static Problem noFiles(Context ctx) {
        Texts texts = Texts.in(ctx.req().getLocale());
        return Problem.of(415, "http-415", texts.say("status.415"), texts.say("status.415.remedy"));
    }

    private void admit(Context ctx, Access access) {
        Visit visit = Visit.of(ctx);
        boolean admitted =
                switch (access) {
                    case EVERYBODY -> true;
                    case METRICS -> local(ctx) || visit.kind() != Visit.Kind.STRANGER;
                    case OPERATOR, REVIEWER, KEEPER -> visit.may(access.least());
                };
        if (admitted) {
            return;
        }
        Texts texts = Texts.in(ctx.req().getLocale());
        if (visit.kind() != Visit.Kind.STRANGER) {
            throw Problem.of(
                    403,
                    "role",
                    texts.say("bad.role"),
                    texts.say("bad.role.remedy", texts.say(access.least())));
        }
        throw signIn(ctx);
    }

    /** For a stranger who wants what is not open to strangers. */
    static Problem signIn(Context ctx) {
        Texts texts = Texts.in(ctx.req().getLocale());
        return Problem.of(401, "sign-in", texts.say("bad.signIn"), texts.say("bad.signIn.remedy"));
    }

    /** The sign-in page, and back from there to where somebody wanted to go. */
    static String signInPage(Context ctx) {
        if (!ctx.method().name().equals("GET")) {
            return SIGN_IN;
        }
        String query = ctx.queryString();
        String wanted = ctx.path() + (query == null ? "" : "?" + query);
        return SIGN_IN + "?to=" + URLEncoder.encode(wanted, StandardCharsets.UTF_8);
    }

    /**
     * The token that a write of this browser has to carry. It follows from the cookie, so every logger
     * behind one address knows it.
     */
    String token(Context ctx) {
        String secret = ctx.cookie(cookieName());
        if (!RandomSecret.looksRight(secret)) {
            secret = ctx.attribute("fresh-secret");
        }
        if (secret == null) {
            secret = RandomSecret.make();
            ctx.attribute("fresh-secret", secret);
            give(ctx, secret);
        }
        return tokenOf(secret);
    }

    private void checkToken(Context ctx) {
        String secret = ctx.cookie(cookieName());
        String given = ctx.header(TOKEN_HEADER);
        if (given == null && ctx.isFormUrlencoded()) {
            given = ctx.formParam(TOKEN_FIELD);
        }
        if (given == null && ctx.isMultipartFormData()) {
            given = Uploads.field(ctx, TOKEN_FIELD, Texts.in(ctx.req().getLocale()));
        }
        boolean right =
                RandomSecret.looksRight(secret)
                        && given != null
                        && RandomSecret.same(given, tokenOf(secret));
        if (!right) {
            Texts texts = Texts.in(ctx.req().getLocale());
            throw Problem.of(403, "csrf", texts.say("bad.token"), texts.say("bad.token.remedy"));
        }
    }

    private static String tokenOf(String secret) {
        return RandomSecret.derived("csrf", secret);
    }

    /** Lax, not strict: a link to a wash in a message would otherwise find its reader signed out. */
    void give(Context ctx, String secret) {
        int seconds = (int) FrontDoor.LONGEST.toSeconds();
        ctx.cookie(
                new Cookie(cookieName(), secret, "/", seconds, secure(), true, null, SameSite.LAX));
    }

    void takeBack(Context ctx) {
        ctx.cookie(new Cookie(cookieName(), "", "/", 0, secure(), true, null, SameSite.LAX));
    }

    String secret(Context ctx) {
        return ctx.cookie(cookieName());
    }

    /** With TLS the name itself forbids a browser to take the cookie from anywhere else. */
    private String cookieName() {
        return (secure() ? "__Host-" : "") + "evenwash-session";
    }

    private boolean secure() {
        return settings.secure();
    }

    /**
     * Where a request came from; behind a proxy what the proxy says. Its own entry is the last one
     * of the last line: some lengthen the line that the client sent, others add one of their own
     * below it.
     */
    String address(Context ctx) {
        if (!settings.behindProxy()) {
            return ctx.ip();
        }
        String forwarded = "";
        for (String line : Collections.list(ctx.req().getHeaders("X-Forwarded-For"))) {
            forwarded = line;
        }
        String last = forwarded.substring(forwarded.lastIndexOf(',') + 1).strip();
        return last.matches("[0-9A-Fa-f:.]{2,45}") ? last : ctx.ip();
    }

    /** From this machine, and not through a proxy on it. */
    private boolean local(Context ctx) {
        return !settings.behindProxy() && Loopback.is(ctx.ip());
    }
}
