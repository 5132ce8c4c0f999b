package org.evenwash.logger.web;

import static org.evenwash.logger.web.Route.post;

import io.javalin.http.Context;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.report.Label;
import org.evenwash.logger.report.LabelDesk;
import org.evenwash.logger.report.LabelLayout;
import org.evenwash.logger.report.LabelPrinter;
import org.evenwash.logger.report.Wording;
import org.evenwash.logger.wash.Workplace;

/** The part of the HTTP interface that prints labels. */
final class LabelApi {
    private static final int LONGEST_LIST = 60_000;
    private static final int LONGEST_ADDRESS = 200;

    private final FrontDesk desk;
    private final Workplace place;

    LabelApi(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    List<Route> routes() {
        return List.of(post("/api/labels", Access.OPERATOR, this::print));
    }

    /** For the colonies named, or for the jars named of a day's work list. */
    private void print(Context ctx) {
        Texts texts = desk.texts(ctx);
        Input in = desk.input(ctx);
        UUID day = in.optionalId("dayId");
        String field = day == null ? "colonies" : "washes";
        List<UUID> ids = in.ids(field, LONGEST_LIST);
        if (ids.isEmpty()) {
            in.mistake(field, "bad.missing");
        } else if (ids.size() > LabelDesk.MOST) {
            in.mistake(field, "bad.range", ids.size(), 1, LabelDesk.MOST);
        }
        LabelLayout layout = layout(in);
        Integer first =
                in.optionalWholeNumber("firstLabel", 1, layout == null ? 1 : layout.onASheet());
        String address = in.text("address", LONGEST_ADDRESS);
        in.check();
        Wording wording = ReaderWording.of(ctx.req().getLocale(), place);
        LabelDesk labels = new LabelDesk(place, wording, address);
        List<Label> all = day == null ? labels.colonies(ids) : labels.jars(day, ids);
        if (all.isEmpty()) {
            in.mistake(field, "bad.missing");
            in.check();
        }
        byte[] pdf =
                LabelPrinter.print(
                        all,
                        layout,
                        first == null ? 1 : first,
                        texts.say("label.title"),
                        texts.language(),
                        Instant.now());
        place.reports().rememberAddress(LabelDesk.checked(address));
        ctx.contentType("application/pdf");
        ctx.header("Content-Disposition", "inline; filename=\"labels.pdf\"");
        ctx.result(pdf);
    }

    private static LabelLayout layout(Input in) {
        String id = in.text("layout", 40);
        List<String> known = new ArrayList<>();
        for (LabelLayout one : LabelLayout.ALL) {
            if (one.id().equals(id)) {
                return one;
            }
            known.add(one.id());
        }
        if (id != null) {
            in.mistake("layout", "bad.choice", id, String.join(", ", known));
        }
        return null;
    }
}
