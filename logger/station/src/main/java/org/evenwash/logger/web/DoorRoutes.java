package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.KEEPER;
import static org.evenwash.logger.web.Access.OPERATOR;
import static org.evenwash.logger.web.Route.get;

import java.util.ArrayList;
import java.util.List;
import org.evenwash.logger.wash.Workplace;

/** Routes that decide who may use the others, put together. */
final class DoorRoutes {
    private DoorRoutes() {}

    static List<Route> of(FrontDesk desk, Workplace place, Guard guard, Doors doors) {
        AccountsPage accounts = new AccountsPage(desk, place, doors);
        List<Route> routes = new ArrayList<>(new SignInPages(desk, guard, doors).routes());
        routes.add(get("/account", OPERATOR, accounts::own));
        routes.add(get("/accounts", KEEPER, accounts::all));
        routes.addAll(new AccountApi(desk, guard, doors, place.benches()).routes());
        return routes;
    }
}
