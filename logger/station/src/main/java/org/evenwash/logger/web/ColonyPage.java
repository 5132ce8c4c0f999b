package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.util.List;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.wash.Workplace;

/** {@code /colonies/{id}}: one colony, its washes and what happened to it. */
public final class ColonyPage {
    private static final int ROWS = 100;

    private final FrontDesk desk;
    private final Workplace place;

    ColonyPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    public record View(
            Colony colony, Apiary apiary, List<WashRow> rows, List<ColonyEvent> events) {}

    void show(Context ctx) {
        Colony colony = place.yard().colony(Query.path(ctx, desk.texts(ctx)));
        Apiary apiary = place.yard().apiary(colony.apiaryId());
        Shell page = desk.shell(ctx, colony.name(), "colonies");
        View view =
                new View(
                        colony,
                        apiary,
                        WashRows.of(
                                place.washes()
                                        .list(WashFilter.ofColony(colony.id()), Page.first(ROWS))
                                        .rows(),
                                place,
                                page),
                        place.yard().events(colony.id()));
        desk.show(ctx, "colony", page, view);
    }
}
