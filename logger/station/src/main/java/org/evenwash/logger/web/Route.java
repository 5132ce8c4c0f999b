package org.evenwash.logger.web;

import io.javalin.http.Handler;
import io.javalin.http.HandlerType;

/**
 * One row of the route table.
 *
 * @param access who may use it; there is no default, so that a new route cannot be open by oversight
 */
record Route(HandlerType method, String path, Access access, Handler handler) {
    static Route get(String path, Access access, Handler handler) {
        return new Route(HandlerType.GET, path, access, handler);
    }

    static Route post(String path, Access access, Handler handler) {
        return new Route(HandlerType.POST, path, access, handler);
    }
}
