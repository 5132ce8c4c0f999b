package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.OPERATOR;
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
                get("/reports", OPERATOR, reports::list),
                get("/reports/{id}", OPERATOR, reports::show),
                get("/labels", OPERATOR, new LabelPage(desk, place)::show));
    }

    /** Pages of a day's work. */
    private List<Route> dayRoutes() {
        DayPage days = new DayPage(desk, place);
        return List.of(
                get("/days", OPERATOR, days::list),
                get("/days/new", OPERATOR, days::planning),
                get("/days/{id}", OPERATOR, days::show));
    }

    /** Pages of colonies, apiaries and treatments. */
    private List<Route> yardRoutes() {
        ColonyPage colony = new ColonyPage(desk, place);
        return List.of(
                get("/colonies", OPERATOR, new ColoniesPage(desk, place)::show),
                get("/colonies/{id}", OPERATOR, colony::show),
                get("/colonies/{id}/trend.svg", OPERATOR, colony::picture),
                get("/apiaries/{id}", OPERATOR, new ApiaryPage(desk, place)::show),
                get("/treatments/{id}", OPERATOR, new TreatmentPage(desk, place)::show));
    }

    /** Pages that calibrate and compare. */
    private List<Route> calibrationRoutes() {
        MeasurePages measures = new MeasurePages(desk, place);
        RunPages runs = new RunPages(desk, place);
        return List.of(
                get("/calibrate", OPERATOR, new CalibratePage(desk, place)::show),
                get("/calibrate/agitation", OPERATOR, new AgitationPage(desk, place)::show),
                get("/calibrate/plan", OPERATOR, new AgitationPlanPage(desk, place)::show),
                get("/calibrate/bees", OPERATOR, measures::bees),
                get("/calibrate/speed", OPERATOR, measures::speed),
                get("/calibrations/{id}", OPERATOR, new CalibrationPage(desk, place)::show),
                get("/consistency", OPERATOR, new ConsistencyPage(desk, place)::show),
                get("/consistency/counting", OPERATOR, runs::counting),
                get("/consistency/samples", OPERATOR, runs::samples),
                get("/consistency/cycles", OPERATOR, runs::cycles));
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
                get("/", OPERATOR, benches::show),
                get("/washes", OPERATOR, new WashesPage(desk, place)::show),
                get("/washes/{id}", OPERATOR, new WashPage(desk, place)::show),
                get("/washes/{id}/recount", OPERATOR, new RecountPage(desk, place)::show),
                get("/plan", OPERATOR, new PlanPage(desk, place)::show),
                get("/cycles", OPERATOR, new CyclesPage(desk, place)::show),
                get("/cycles/{id}", OPERATOR, new CyclePage(desk, place)::show),
                get("/spirit", OPERATOR, spirit::list),
                get("/spirit/{id}", OPERATOR, spirit::show),
                get("/operators", OPERATOR, new OperatorsPage(desk, database)::show),
                get("/set-aside", OPERATOR, new SetAsidePage(desk, database)::show),
                get("/standards", OPERATOR, standards::show),
                get("/standards/files/{name}", OPERATOR, standards::file),
                get("/more", OPERATOR, this::more),
                get("/cautions", OPERATOR, this::cautions));
    }

    private void more(Context ctx) {
        desk.show(ctx, "more", desk.shell(ctx, desk.texts(ctx).say("nav.more"), "more"));
    }

    private void cautions(Context ctx) {
        desk.show(ctx, "cautions", desk.shell(ctx, desk.texts(ctx).say("caution.title"), "more"));
    }
}
