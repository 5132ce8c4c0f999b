package org.evenwash.logger.web;

import static org.evenwash.logger.web.Route.get;

import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.List;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.wash.Workplace;

/** The pages, one handler and one template each. */
final class Pages {
    private final FrontDesk desk;
    private final Database database;
    private final Workplace place;
    private final BenchPage benches;

    Pages(FrontDesk desk, Database database, Workplace place, BenchPage benches) {
        this.desk = desk;
        this.database = database;
        this.place = place;
        this.benches = benches;
    }

    /** Pages about what leaves on paper. */
    private List<Route> paperRoutes() {
        ReportsPage reports = new ReportsPage(desk, place);
        return List.of(
                get("/reports", reports::list),
                get("/reports/{id}", reports::show),
                get("/labels", new LabelPage(desk, place)::show));
    }

    /** Pages of a day's work. */
    private List<Route> dayRoutes() {
        DayPage days = new DayPage(desk, place);
        return List.of(
                get("/days", days::list),
                get("/days/new", days::planning),
                get("/days/{id}", days::show));
    }

    /** Pages of colonies, apiaries and treatments. */
    private List<Route> yardRoutes() {
        ColonyPage colony = new ColonyPage(desk, place);
        return List.of(
                get("/colonies", new ColoniesPage(desk, place)::show),
                get("/colonies/{id}", colony::show),
                get("/colonies/{id}/trend.svg", colony::picture),
                get("/apiaries/{id}", new ApiaryPage(desk, place)::show),
                get("/treatments/{id}", new TreatmentPage(desk, place)::show));
    }

    /** Pages that calibrate and compare. */
    private List<Route> calibrationRoutes() {
        MeasurePages measures = new MeasurePages(desk, place);
        RunPages runs = new RunPages(desk, place);
        return List.of(
                get("/calibrate", new CalibratePage(desk, place)::show),
                get("/calibrate/agitation", new AgitationPage(desk, place)::show),
                get("/calibrate/plan", new AgitationPlanPage(desk, place)::show),
                get("/calibrate/bees", measures::bees),
                get("/calibrate/speed", measures::speed),
                get("/calibrations/{id}", new CalibrationPage(desk, place)::show),
                get("/consistency", new ConsistencyPage(desk, place)::show),
                get("/consistency/counting", runs::counting),
                get("/consistency/samples", runs::samples),
                get("/consistency/cycles", runs::cycles));
    }

    List<Route> routes() {
        List<Route> all = new ArrayList<>(paperRoutes());
        all.addAll(dayRoutes());
        all.addAll(yardRoutes());
        all.addAll(calibrationRoutes());
        all.addAll(baseRoutes());
        return all;
    }

    private List<Route> baseRoutes() {
        StandardsPage standards = new StandardsPage(desk, place);
        SpiritPage spirit = new SpiritPage(desk, place, benches);
        return List.of(
                get("/", benches::show),
                get("/washes", new WashesPage(desk, place)::show),
                get("/washes/{id}", new WashPage(desk, place)::show),
                get("/washes/{id}/recount", new RecountPage(desk, place)::show),
                get("/plan", new PlanPage(desk, place)::show),
                get("/cycles", new CyclesPage(desk, place)::show),
                get("/cycles/{id}", new CyclePage(desk, place)::show),
                get("/spirit", spirit::list),
                get("/spirit/{id}", spirit::show),
                get("/operators", new OperatorsPage(desk, database)::show),
                get("/set-aside", new SetAsidePage(desk, database)::show),
                get("/standards", standards::show),
                get("/standards/files/{name}", standards::file),
                get("/more", this::more),
                get("/cautions", this::cautions));
    }

    private void more(Context ctx) {
        desk.show(ctx, "more", desk.shell(ctx, desk.texts(ctx).say("nav.more"), "more"));
    }

    private void cautions(Context ctx) {
        desk.show(ctx, "cautions", desk.shell(ctx, desk.texts(ctx).say("caution.title"), "more"));
    }
}
