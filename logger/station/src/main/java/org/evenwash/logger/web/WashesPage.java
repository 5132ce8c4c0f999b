package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.store.WashLine;
import org.evenwash.logger.wash.WashBook;
import org.evenwash.logger.wash.Workplace;

/** {@code /washes}: all washes, newest first, of one apiary or all. */
public final class WashesPage {
    private static final int ROWS = 30;

    private final FrontDesk desk;
    private final Workplace place;

    WashesPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /**
     * @param apiary id of the one chosen, or nothing
     * @param until last day shown, as chosen, or nothing
     * @param later address of the part with later washes, null on the first
     * @param earlier address of the next part, null on the last
     */
    public record View(
            List<WashRow> rows,
            List<Option> apiaries,
            String apiary,
            String until,
            long total,
            String later,
            String earlier) {}

    void show(Context ctx) {
        Shell page = desk.shell(ctx, desk.texts(ctx).say("washes.title"), "washes");
        Query query = new Query(ctx, page.texts());
        UUID apiary = query.id("apiaryId");
        LocalDate until = query.day("until");
        WashBook.Part part =
                place.washes()
                        .beside(
                                new WashFilter(apiary, null, null, until),
                                query.id("before"),
                                query.id("after"),
                                ROWS);
        List<WashLine> rows = part.rows();
        String same =
                (apiary == null ? "" : "&apiaryId=" + apiary)
                        + (until == null ? "" : "&until=" + until);
        View view =
                new View(
                        WashRows.of(rows, place, page),
                        new Options(place, page.texts(), page.formats()).apiaries(),
                        apiary == null ? "" : apiary.toString(),
                        until == null ? "" : until.toString(),
                        part.total(),
                        part.later() && !rows.isEmpty()
                                ? "/washes?after=" + rows.get(0).id() + same
                                : null,
                        part.earlier() && !rows.isEmpty()
                                ? "/washes?before=" + rows.get(rows.size() - 1).id() + same
                                : null);
        desk.show(ctx, "washes", page, view);
    }
}
