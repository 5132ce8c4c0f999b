package org.evenwash.logger.cli;

import java.nio.file.Path;
import java.util.LinkedHashSet;
import java.util.Set;
import org.evenwash.logger.tls.Authority.Server;
import org.evenwash.logger.tls.Identity;
import org.evenwash.logger.tls.Loopback;
import org.evenwash.logger.web.WebSettings;
import picocli.CommandLine.Option;

/** From where pages and broker can be reached, and with which certificates. */
final class ReachOptions {
    private static final String LOOPBACK = "127.0.0.1";

    @Option(
            names = "--host",
            paramLabel = "ADDRESS",
            description = {
                "Address of this machine that the pages listen on, 0.0.0.0 for all of them.",
                "Beyond this machine somebody must have a password, and TLS is required.",
                "Default: ${DEFAULT-VALUE}"
            },
            defaultValue = LOOPBACK)
    String host;

    @Option(
            names = "--broker-host",
            paramLabel = "ADDRESS",
            description =
                    "Address that the embedded broker listens on; beyond this machine with TLS."
                            + " Default: ${DEFAULT-VALUE}",
            defaultValue = LOOPBACK)
    String brokerHost;

    @Option(
            names = "--name",
            paramLabel = "NAME",
            description = {
                "A host name or address that browsers may use; may be given several times.",
                "Those of the certificate are allowed anyhow."
            })
    Set<String> names = new LinkedHashSet<>();

    @Option(
            names = "--certificate",
            paramLabel = "FILE",
            description =
                    "PEM certificate with its chain; without it, those that 'ca create' made.")
    Path certificate;

    @Option(names = "--key", paramLabel = "FILE", description = "PEM key of the certificate.")
    Path key;

    @Option(
            names = "--behind-proxy",
            description = {
                "A proxy speaks TLS with browsers and passes on to the pages.",
                "It must set X-Forwarded-Proto and X-Forwarded-For."
            })
    boolean behindProxy;

    WebSettings web(Path data, int port) {
        boolean beyond = !Loopback.is(host);
        Identity identity = beyond || certificate != null ? identity(data, Server.WEB) : null;
        return new WebSettings(host, port, names, identity, behindProxy);
    }

    /** The broker's certificate; null where it needs none. */
    Identity broker(Path data) {
        return Loopback.is(brokerHost) ? null : identity(data, Server.BROKER);
    }

    private Identity identity(Path data, Server server) {
        if ((certificate == null) != (key == null)) {
            throw new BadInput("--certificate and --key belong together; give both or neither");
        }
        if (certificate != null) {
            return Identity.read(certificate, key);
        }
        Path folder = CaCommand.folder(data);
        return server.isIn(folder) ? server.in(folder) : null;
    }
}
