package org.evenwash.logger.web;

import java.util.HashSet;
import java.util.Set;
import org.evenwash.logger.tls.Identity;
import org.evenwash.logger.tls.Loopback;

/**
 * Where the pages are served.
 *
 * @param host address to listen on; loopback unless somebody decided otherwise
 * @param port 0 takes a free one
 * @param names further host names under which browsers may call, such as a proxy's
 * @param identity certificate to speak TLS with, null for plain HTTP
 * @param behindProxy a proxy speaks TLS with the browsers and passes on to us
 */
public record WebSettings(
        String host, int port, Set<String> names, Identity identity, boolean behindProxy) {
    private static final Set<String> LOOPBACK = Set.of("localhost", "127.0.0.1", "[::1]");

    public WebSettings {
        names = Set.copyOf(names);
    }

    /** This machine only. */
    public static WebSettings loopback(int port) {
        return new WebSettings("127.0.0.1", port, Set.of(), null, false);
    }

    Set<String> hosts() {
        Set<String> all = new HashSet<>(LOOPBACK);
        all.addAll(names);
        if (identity != null) {
            all.addAll(identity.names());
        }
        return all;
    }

    /** Whether browsers reach the pages by TLS. */
    boolean secure() {
        return identity != null || behindProxy;
    }

    /** Whether anybody but this machine can reach the pages. */
    boolean reachable() {
        return behindProxy || !Loopback.is(host);
    }

    /** Whether the way from browser or proxy to us leaves this machine without TLS. */
    boolean plainBeyondLoopback() {
        return identity == null && !Loopback.is(host);
    }
}
