package org.evenwash.logger.web;

import io.javalin.http.Context;
import io.javalin.http.Cookie;
import io.javalin.http.SameSite;
import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.MessageDigest;
import java.security.SecureRandom;
import java.util.Base64;
import java.util.HexFormat;
import java.util.Set;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/**
 * What every request passes first: the host it was sent to, the headers of the answer, the session,
 * and for a write the token that only our own pages and programs that asked for it can know.
 */
final class Guard {
    static final String TOKEN_HEADER = "X-CSRF-Token";
    static final String TOKEN_FIELD = "csrf";
    private static final String COOKIE = "evenwash-session";
    private static final String SESSION = "session";

    /** Nothing but our own files; no script or style within a page. */
    private static final String CONTENT_POLICY =
            "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self';"
                    + " img-src 'self' data:; connect-src 'self'; form-action 'self';"
                    + " base-uri 'none'; frame-ancestors 'none'";

    private static final Set<String> WRITES = Set.of("POST", "PUT", "PATCH", "DELETE");

    private final Set<String> hosts;
    private final SecureRandom random = new SecureRandom();
    private final SecretKeySpec key;

    /**
     * @param hosts names under which a browser may call us; any other is a page elsewhere whose
     *     name was pointed at this machine
     */
    Guard(Set<String> hosts) {
        this.hosts = Set.copyOf(hosts);
        byte[] secret = new byte[32];
        random.nextBytes(secret);
        key = new SecretKeySpec(secret, "HmacSHA256");
    }

    void before(Context ctx) {
        headers(ctx);
        String host = ctx.req().getServerName();
        if (!hosts.contains(host)) {
            throw Problem.of(
                    421,
                    "host",
                    "This logger does not answer to the name “" + host + "”.",
                    "Open it under one of: " + String.join(", ", hosts.stream().sorted().toList()));
        }
        String session = ctx.cookie(COOKIE);
        boolean known = session != null && session.matches("[0-9a-f]{32}");
        if (WRITES.contains(ctx.method().name())) {
            checkToken(ctx, known ? session : null);
        } else if (!known) {
            session = newSession(ctx);
        }
        ctx.attribute(SESSION, session);
    }

    /** The token that a write of this session has to carry. */
    String token(Context ctx) {
        String session = ctx.attribute(SESSION);
        return session == null ? "" : tokenOf(session);
    }

    private void checkToken(Context ctx, String session) {
        String given = ctx.header(TOKEN_HEADER);
        if (given == null && ctx.isFormUrlencoded()) {
            given = ctx.formParam(TOKEN_FIELD);
        }
        if (given == null && ctx.isMultipartFormData()) {
            given = Uploads.field(ctx, TOKEN_FIELD, Texts.in(ctx.req().getLocale()));
        }
        boolean right =
                session != null
                        && given != null
                        && MessageDigest.isEqual(
                                given.getBytes(StandardCharsets.UTF_8),
                                tokenOf(session).getBytes(StandardCharsets.UTF_8));
        if (!right) {
            Texts texts = Texts.in(ctx.req().getLocale());
            throw Problem.of(403, "csrf", texts.say("bad.token"), texts.say("bad.token.remedy"));
        }
    }

    private String newSession(Context ctx) {
        byte[] bytes = new byte[16];
        random.nextBytes(bytes);
        String session = HexFormat.of().formatHex(bytes);
        ctx.cookie(
                new Cookie(
                        COOKIE,
                        session,
                        "/",
                        -1,
                        ctx.scheme().equals("https"),
                        true,
                        null,
                        SameSite.STRICT));
        return session;
    }

    private String tokenOf(String session) {
        try {
            Mac mac = Mac.getInstance("HmacSHA256");
            mac.init(key);
            byte[] code = mac.doFinal(session.getBytes(StandardCharsets.US_ASCII));
            return Base64.getUrlEncoder().withoutPadding().encodeToString(code);
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("HmacSHA256 belongs to every Java", e);
        }
    }

    private static void headers(Context ctx) {
        ctx.header("Content-Security-Policy", CONTENT_POLICY);
        ctx.header("X-Content-Type-Options", "nosniff");
        ctx.header("Referrer-Policy", "same-origin");
        ctx.header("Cross-Origin-Opener-Policy", "same-origin");
        ctx.header("Cross-Origin-Resource-Policy", "same-origin");
        ctx.header("Permissions-Policy", "camera=(), geolocation=(), microphone=()");
        if (!ctx.path().startsWith("/assets/")) {
            ctx.header("Cache-Control", "no-store");
        }
    }
}
