package org.evenwash.logger.web;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.HandlerType;
import io.javalin.http.HttpResponseException;
import io.javalin.http.HttpStatus;
import java.net.URI;
import java.nio.charset.IllegalCharsetNameException;
import java.nio.charset.UnsupportedCharsetException;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.TimeoutException;
import java.util.function.Supplier;
import org.eclipse.jetty.http.HttpException;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.wash.EditedMeanwhile;
import org.evenwash.logger.wash.Refused;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Turns whatever went wrong into an answer that says what happened and what to do. */
public final class Problems {
    private static final Logger LOG = LoggerFactory.getLogger(Problems.class);

    private final FrontDesk desk;
    private final Supplier<Map<UUID, String>> people;

    /**
     * @param people names by id, for saying who changed something
     */
    Problems(FrontDesk desk, Supplier<Map<UUID, String>> people) {
        this.desk = desk;
        this.people = people;
    }

    /**
     * @param problem to be shown
     * @param back the page with the form, null if unknown
     */
    public record View(Problem problem, String back) {}

    void register(RoutesConfig routes) {
        routes.exception(Problem.class, (problem, ctx) -> answer(ctx, problem));
        routes.exception(Refused.class, (refused, ctx) -> answer(ctx, refused(ctx, refused)));
        routes.exception(
                HttpResponseException.class, (e, ctx) -> answer(ctx, known(ctx, e.getStatus())));
        routes.exception(
                Exception.class,
                (e, ctx) -> {
                    int status = blamesTheRequest(e);
                    answer(ctx, status > 0 ? known(ctx, status) : unexpected(ctx, e));
                });
        routes.error(
                404,
                "*",
                ctx -> {
                    if (ctx.attribute("answered") == null) {
                        answer(ctx, known(ctx, 404));
                    }
                });
    }

    private void answer(Context ctx, Problem problem) {
        ctx.attribute("answered", true);
        boolean asPage = FrontDesk.wantsPage(ctx);
        if (asPage && problem.status() == 401 && ctx.method().equals(HandlerType.GET)) {
            ctx.redirect(Guard.signInPage(ctx), HttpStatus.SEE_OTHER);
            return;
        }
        ctx.status(problem.status());
        if (asPage) {
            Shell page = desk.shell(ctx, problem.title(), "");
            desk.show(ctx, "problem", page, new View(problem, cameFrom(ctx)));
        } else {
            ctx.json(problem.document());
            ctx.contentType("application/problem+json");
        }
    }

    /** A stranger is not told what is here and what is not. */
    private Problem known(Context ctx, int status) {
        boolean address = status == 404 || status == 405;
        if (address && Visit.of(ctx).kind() == Visit.Kind.STRANGER) {
            return Guard.signIn(ctx);
        }
        Texts texts = desk.texts(ctx);
        String key = texts.has("status." + status) ? "status." + status : "status.other";
        return Problem.of(
                status,
                "http-" + status,
                texts.say(key, ctx.path(), status),
                texts.say(key + ".remedy", WebServer.LARGEST_BODY / 1_024));
    }

    private Problem refused(Context ctx, Refused refused) {
        if (refused instanceof EditedMeanwhile edited) {
            return edited(ctx, edited);
        }
        String title = sentence(refused.where() + " " + refused.what());
        int status =
                switch (refused.kind()) {
                    case INVALID -> 422;
                    case NOT_FOUND -> 404;
                    case CONFLICT -> 409;
                    case UNAVAILABLE -> 503;
                };
        String code = refused.kind().name().toLowerCase(Locale.ROOT).replace('_', '-');
        return Problem.of(status, code, title, sentence(refused.remedy()));
    }

    private Problem edited(Context ctx, EditedMeanwhile edited) {
        Texts texts = desk.texts(ctx);
        Formats formats = desk.formats(ctx);
        Map<UUID, String> names = people.get();
        List<Problem.Change> changes =
                edited.changes().stream()
                        .map(
                                one ->
                                        new Problem.Change(
                                                one.subject() + ", " + one.field(),
                                                Names.orWords(one.earlier(), names, texts),
                                                Names.orWords(one.later(), names, texts),
                                                names.getOrDefault(
                                                        one.correctedBy(),
                                                        texts.say("wash.nobody")),
                                                formats.dayAndTime(one.correctedAt())))
                        .toList();
        return Problem.conflict(
                texts.say("changed.title"),
                texts.say("changed.remedy"),
                changes,
                edited.currentVersion());
    }

    private static String sentence(String words) {
        return Character.toUpperCase(words.charAt(0)) + words.substring(1) + ".";
    }

    /**
     * What the server's library throws, wrapped or not, when a body cannot be decoded or does not come: a
     * form cut off, a character set that does not exist, a sender who is too slow.
     *
     * @return the status to answer with, 0 when the fault is ours
     */
    private static int blamesTheRequest(Throwable e) {
        for (Throwable cause = e; cause != null; cause = cause.getCause()) {
            if (cause instanceof HttpException known && known.getCode() < 500) {
                return known.getCode();
            }
            if (cause instanceof TimeoutException) {
                return 408;
            }
            if (cause instanceof UnsupportedCharsetException
                    || cause instanceof IllegalCharsetNameException) {
                return 415;
            }
        }
        return Database.isOfCharacters(e) ? 400 : 0;
    }

    /** Logged once, here, under a number that the page shows. */
    private Problem unexpected(Context ctx, Exception e) {
        String number = UUID.randomUUID().toString().substring(0, 8);
        LOG.error("{} {} failed, shown as {}", ctx.method().name(), ctx.path(), number, e);
        Texts texts = desk.texts(ctx);
        return Problem.of(
                500, "internal", texts.say("status.500"), texts.say("status.500.remedy", number));
    }

    /** Path of the page that sent the form; only ever one of ours. */
    private static String cameFrom(Context ctx) {
        String referrer = ctx.header("Referer");
        if (referrer == null) {
            return null;
        }
        try {
            URI uri = URI.create(referrer);
            String path = uri.getRawPath();
            return path != null && path.startsWith("/") && !path.startsWith("//") ? path : null;
        } catch (IllegalArgumentException e) {
            // A header that is no address leads nowhere.
            return null;
        }
    }
}
