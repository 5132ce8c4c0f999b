package org.evenwash.logger.web;

import io.javalin.http.Handler;
import io.javalin.http.HandlerType;

/** One row of the route table. */
record Route(HandlerType method, String path, Handler handler) {
    static Route get(String path, Handler handler) {
        return new Route(HandlerType.GET, path, handler);
    }

    static Route post(String path, Handler handler) {
        return new Route(HandlerType.POST, path, handler);
    }
}
