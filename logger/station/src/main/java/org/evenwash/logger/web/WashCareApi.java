package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.OPERATOR;
import static org.evenwash.logger.web.Access.REVIEWER;
import static org.evenwash.logger.web.Route.get;
import static org.evenwash.logger.web.Route.post;

import io.javalin.http.Context;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.Photo;
import org.evenwash.logger.store.StoredTicket;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.PhotoAlbum;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.Position;

/** The part of the HTTP interface that takes back what was a mistake, and keeps photos. */
final class WashCareApi {
    private static final int LONGEST_WHY = 400;

    private final FrontDesk desk;
    private final Workplace place;

    WashCareApi(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    List<Route> routes() {
        return List.of(
                post("/api/cycles/{id}/detach", OPERATOR, this::detach),
                post("/api/washes/{id}/remove", REVIEWER, this::remove),
                post("/api/washes/{id}/put-back", REVIEWER, this::putBack),
                post("/api/washes/{id}/photos", OPERATOR, this::addPhoto),
                get("/api/photos/{id}", OPERATOR, this::photo),
                post("/api/photos/{id}/remove", OPERATOR, this::removePhoto));
    }

    private UUID id(Context ctx) {
        return Query.path(ctx, desk.texts(ctx));
    }

    private static String page(UUID washId) {
        return "/washes/" + washId;
    }

    private void detach(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        int position = in.wholeNumber("position", 1, Position.MOST);
        String why = in.text("why", LONGEST_WHY);
        By by = Api.by(ctx, in);
        in.check();
        UUID washId = place.cycles().detach(id, position, why, by);
        Answer.done(ctx, page(washId), place.cycles().cycle(id));
    }

    /** A wash taken off the lists takes its open tickets off their benches. */
    private void remove(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        long version = in.wholeNumber("version", 1, Integer.MAX_VALUE);
        String why = in.text("why", LONGEST_WHY);
        By by = Api.by(ctx, in);
        in.check();
        place.washes().remove(id, version, why, by);
        for (StoredTicket ticket : place.tickets().ofWash(id)) {
            if (ticket.standing().open()) {
                place.tickets().withdraw(ticket.id(), By.operator(by.operatorId()));
            }
        }
        Answer.done(ctx, page(id), place.washes().wash(id));
    }

    private void putBack(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        long version = in.wholeNumber("version", 1, Integer.MAX_VALUE);
        String why = in.text("why", LONGEST_WHY);
        By by = Api.by(ctx, in);
        in.check();
        place.washes().putBack(id, version, why, by);
        Answer.done(ctx, page(id), place.washes().wash(id));
    }

    /** The body is the picture itself. */
    private void addPhoto(Context ctx) {
        UUID id = id(ctx);
        By by = new By(Visit.of(ctx).operatorId(), ctx.header("Idempotency-Key"));
        Answer.created(ctx, page(id), place.photos().add(id, body(ctx), by));
    }

    private byte[] body(Context ctx) {
        try (InputStream in = ctx.bodyInputStream()) {
            byte[] bytes = in.readNBytes(PhotoAlbum.LARGEST_BYTES + 1);
            if (bytes.length > PhotoAlbum.LARGEST_BYTES) {
                Texts texts = desk.texts(ctx);
                int most_MiB = PhotoAlbum.LARGEST_BYTES / (1_024 * 1_024);
                throw Problem.of(
                        413,
                        "photo",
                        texts.say("status.413"),
                        texts.say("bad.photo.large", most_MiB));
            }
            return bytes;
        } catch (IOException e) {
            throw new UncheckedIOException("the photo did not arrive whole", e);
        }
    }

    /** A photo never changes under its id. */
    private void photo(Context ctx) {
        Photo photo = place.photos().photo(id(ctx));
        ctx.header("Cache-Control", "private, max-age=86400, immutable");
        ctx.contentType(photo.mediaType());
        ctx.result(place.photos().bytes(photo.id()));
    }

    private void removePhoto(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        String why = in.text("why", LONGEST_WHY);
        By by = Api.by(ctx, in);
        in.check();
        UUID washId = place.photos().remove(id, why, by);
        Answer.done(ctx, page(washId), place.washes().wash(washId));
    }
}
