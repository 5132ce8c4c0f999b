package org.evenwash.logger.intake;

import java.net.URI;
import java.nio.file.Path;
import org.evenwash.logger.StationTrouble;
import org.evenwash.logger.tls.Loopback;

/**
 * How the station reaches its broker.
 *
 * @param address {@code mqtt://HOST:PORT} or {@code mqtts://HOST:PORT}
 * @param user null for a broker that asks for none
 * @param clientId fixed: the broker keeps under it what comes while the station is away
 * @param trust file of the authorities that the broker's certificate must come from, null for Java's
 * @param share under which several stations over one database share records and events, while states and
 *     readings reach each; null for a station by itself
 */
public record LineConfig(
        URI address, String user, String password, String clientId, Path trust, Share share) {

    public LineConfig {
        String scheme = address.getScheme();
        if (!"mqtt".equals(scheme) && !"mqtts".equals(scheme)) {
            throw new IllegalArgumentException(
                    "the broker address reads '"
                            + address
                            + "', expected mqtt://HOST:PORT or mqtts://HOST:PORT");
        }
        if (address.getHost() == null) {
            throw new IllegalArgumentException(
                    "the broker address '" + address + "' names no host");
        }
        if (user != null && "mqtt".equals(scheme) && !Loopback.is(address.getHost())) {
            throw new StationTrouble(
                    "the password for the broker at "
                            + address
                            + " would travel in clear; let the broker speak TLS and write mqtts://",
                    null);
        }
    }

    boolean isSecure() {
        return "mqtts".equals(address.getScheme());
    }

    /** As the client library spells it, which leaves TLS to the sockets that it is given. */
    String clientUrl() {
        int port = address.getPort() > 0 ? address.getPort() : isSecure() ? 8883 : 1883;
        return "tcp://" + address.getHost() + ":" + port;
    }
}
