package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.evenwash.logger.store.Bench;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.UnassignedCycle;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.Pass;

/** {@code /cycles}: cycles that no wash has claimed, each with a way to tie it to one. */
public final class CyclesPage {
    private static final int ROWS = 50;

    private final FrontDesk desk;
    private final Workplace place;

    CyclesPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    public record Row(UnassignedCycle cycle, String bench) {}

    public record View(List<Row> rows, List<Option> washes, List<Option> passes) {}

    void show(Context ctx) {
        Shell page = desk.shell(ctx, desk.texts(ctx).say("cycles.title"), "cycles");
        Options options = new Options(place, page.texts(), page.formats());
        Map<String, String> names =
                place.benches().benches().stream()
                        .collect(Collectors.toMap(Bench::id, Bench::name));
        List<Row> rows =
                place.cycles().unassigned(Page.first(ROWS)).rows().stream()
                        .map(one -> new Row(one, names.getOrDefault(one.benchId(), one.benchId())))
                        .toList();
        desk.show(ctx, "cycles", page, new View(rows, options.washes(), options.each(Pass.class)));
    }
}
