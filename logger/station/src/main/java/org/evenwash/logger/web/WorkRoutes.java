package org.evenwash.logger.web;

import java.util.ArrayList;
import java.util.List;
import org.evenwash.logger.wash.Workplace;

/** The HTTP interface of a day's work beside the washes themselves, put together. */
final class WorkRoutes {
    private WorkRoutes() {}

    static List<Route> of(FrontDesk desk, Workplace place) {
        List<Route> routes = new ArrayList<>();
        routes.addAll(new WashCareApi(desk, place).routes());
        routes.addAll(new ReportApi(desk, place).routes());
        routes.addAll(new LabelApi(desk, place).routes());
        routes.addAll(new ColonyApi(desk, place).routes());
        routes.addAll(new StandardsApi(place).routes());
        routes.addAll(new TrendApi(desk, place).routes());
        routes.addAll(new ApiaryApi(desk, place).routes());
        routes.addAll(new DayApi(desk, place).routes());
        routes.addAll(new SpiritApi(desk, place).routes());
        routes.addAll(new CalibrateApi(desk, place).routes());
        routes.addAll(new ConsistencyApi(desk, place).routes());
        return routes;
    }
}
