package org.evenwash.logger.web;

import java.util.HashSet;
import java.util.Set;

/**
 * Where the pages are served.
 *
 * @param host address to listen on; loopback unless somebody decided otherwise
 * @param port 0 takes a free one
 * @param names further host names under which browsers may call, such as a proxy's
 */
public record WebSettings(String host, int port, Set<String> names) {
    private static final Set<String> LOOPBACK = Set.of("localhost", "127.0.0.1", "[::1]");

    public WebSettings {
        names = Set.copyOf(names);
    }

    /** This machine only. */
    public static WebSettings loopback(int port) {
        return new WebSettings("127.0.0.1", port, Set.of());
    }

    Set<String> hosts() {
        Set<String> all = new HashSet<>(LOOPBACK);
        all.addAll(names);
        return all;
    }
}
