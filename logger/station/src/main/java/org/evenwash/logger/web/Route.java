package org.evenwash.logger.web;

import io.javalin.http.Handler;
import io.javalin.http.HandlerType;

/**
 * One row of the route table.
 *
 * @param access who may use it; there is no default, so that a new route cannot be open by oversight
 * @param takesFiles whether a form may bring a file, which is written to the disk before it is looked at
 */
record Route(HandlerType method, String path, Access access, boolean takesFiles, Handler handler) {
    static Route get(String path, Access access, Handler handler) {
        return new Route(HandlerType.GET, path, access, false, handler);
    }

    static Route post(String path, Access access, Handler handler) {
        return new Route(HandlerType.POST, path, access, false, handler);
    }

    static Route file(String path, Access access, Handler handler) {
        if (access == Access.EVERYBODY) {
            throw new IllegalArgumentException(path + " would let strangers fill the disk");
        }
        return new Route(HandlerType.POST, path, access, true, handler);
    }
}
