package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.Listing;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.store.WashLine;
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
     * @param later address of the page with later washes, null on the first
     * @param earlier address of the next page, null on the last
     */
    public record View(
            List<WashRow> rows,
            List<Option> apiaries,
            String apiary,
            long number,
            long pages,
            long total,
            String later,
            String earlier) {}

    void show(Context ctx) {
        Shell page = desk.shell(ctx, desk.texts(ctx).say("washes.title"), "washes");
        Query query = new Query(ctx, page.texts());
        UUID apiary = query.id("apiaryId");
        int number = query.wholeNumber("page", 1, 1_000_000, 1);
        Listing<WashLine> washes =
                place.washes()
                        .list(new WashFilter(apiary, null, null, null), new Page(number, ROWS));
        View view =
                new View(
                        WashRows.of(washes.rows(), place, page),
                        new Options(place, page.texts(), page.formats()).apiaries(),
                        apiary == null ? "" : apiary.toString(),
                        number,
                        washes.pages(),
                        washes.total(),
                        number > 1 ? address(apiary, number - 1) : null,
                        washes.hasNext() ? address(apiary, number + 1) : null);
        desk.show(ctx, "washes", page, view);
    }

    private static String address(UUID apiary, int number) {
        return "/washes?page=" + number + (apiary == null ? "" : "&apiaryId=" + apiary);
    }
}
