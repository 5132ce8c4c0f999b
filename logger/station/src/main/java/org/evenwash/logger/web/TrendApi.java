package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.OPERATOR;
import static org.evenwash.logger.web.Route.get;

import io.javalin.http.Context;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.trend.DatedStretch;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.wash.ColonyHistory;
import org.evenwash.logger.wash.TreatmentEffect;
import org.evenwash.logger.wash.Workplace;

/** The part of the HTTP interface that reads colonies over time. */
final class TrendApi {
    private static final int ROWS = 100;

    private final FrontDesk desk;
    private final Workplace place;

    TrendApi(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    List<Route> routes() {
        return List.of(
                get("/api/colonies", OPERATOR, this::list),
                get("/api/colonies/{id}", OPERATOR, this::history),
                get("/api/colony-events/{id}/efficacy", OPERATOR, this::efficacy));
    }

    private void list(Context ctx) {
        ColonyQuery query = ColonyQuery.of(ctx, desk.texts(ctx));
        var found =
                place.colonyList().list(query.filter(), query.sort(), new Page(query.page(), ROWS));
        Map<String, Object> document = new LinkedHashMap<>();
        document.put(
                "rows",
                found.rows().stream()
                        .map(
                                row -> {
                                    Map<String, Object> line = new LinkedHashMap<>();
                                    line.put("colony", row.line());
                                    if (row.result() != null) {
                                        line.put(
                                                "infestation",
                                                ResultDocument.of(
                                                        row.result(),
                                                        Quantity.INFESTATION,
                                                        "per100Bees"));
                                    }
                                    line.put("verdict", row.call().word());
                                    return line;
                                })
                        .toList());
        document.put("total", found.total());
        document.put("page", query.page());
        ctx.json(document);
    }

    private void history(Context ctx) {
        UUID id = Query.path(ctx, desk.texts(ctx));
        boolean all = "true".equals(ctx.queryParam("all"));
        ColonyHistory history = place.trends().of(id, all, LocalDate::toString);
        Map<String, Object> document = new LinkedHashMap<>();
        document.put("colony", history.colony());
        document.put("apiary", history.apiary());
        document.put("from", history.from());
        document.put("washes", history.washes());
        document.put("events", history.events());
        document.put("threshold", history.threshold().orElse(null));
        document.put(
                "last",
                history.last()
                        .map(
                                day ->
                                        SameDayDocument.of(
                                                day, day.verdict(history.threshold()).orElse(null)))
                        .orElse(null));
        document.put("stretches", history.stretches().stream().map(TrendApi::stretch).toList());
        document.put("goingOn", history.latest().isPresent());
        document.put("season", history.season());
        document.put("nextWash", history.next().orElse(null));
        document.put("simulatedLeftOut", history.simulatedLeftOut());
        ctx.json(document);
    }

    private static Map<String, Object> stretch(DatedStretch stretch) {
        Map<String, Object> document = new LinkedHashMap<>();
        document.put("from", stretch.from());
        document.put("to", stretch.to());
        document.put("washes", stretch.trend().samples().size());
        document.put("mites", stretch.mites());
        document.put("growth", ResultDocument.of(stretch.trend().growth(), Quantity.GROWTH));
        document.put("doubling", ResultDocument.of(stretch.trend().doubling(), Quantity.WEEKS));
        stretch.crossing()
                .ifPresent(
                        crossing ->
                                document.put(
                                        "crossingWeek",
                                        ResultDocument.of(crossing, Quantity.WEEKS)));
        stretch.meeting()
                .ifPresent(
                        meeting -> {
                            Map<String, Object> days = new LinkedHashMap<>();
                            days.put("day", meeting.day());
                            days.put("earliest", meeting.earliest());
                            days.put("latest", meeting.latest().orElse(null));
                            document.put("crossing", days);
                        });
        return document;
    }

    private void efficacy(Context ctx) {
        TreatmentEffect found = place.treatments().effect(Query.path(ctx, desk.texts(ctx)));
        Map<String, Object> document = new LinkedHashMap<>();
        document.put("event", found.event());
        document.put("apiary", found.apiary());
        document.put("efficacy", ResultDocument.of(found.efficacy(), Quantity.EFFICACY));
        document.put(
                "groupEfficacy",
                found.group().map(one -> ResultDocument.of(one, Quantity.EFFICACY)).orElse(null));
        document.put("own", found.own().orElse(null));
        document.put("alike", found.alike());
        document.put("controls", found.controls());
        document.put("leftOut", found.leftOut());
        ctx.json(document);
    }
}
