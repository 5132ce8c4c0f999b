package org.evenwash.logger.web;

import io.javalin.config.JettyConfig;
import org.eclipse.jetty.server.HttpConfiguration;
import org.eclipse.jetty.server.HttpConnectionFactory;
import org.eclipse.jetty.server.SecureRequestCustomizer;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.ServerConnector;
import org.eclipse.jetty.server.SslConnectionFactory;
import org.eclipse.jetty.util.ssl.SslContextFactory;
import org.evenwash.logger.tls.Identity;

/** How the web server listens: plain, or with TLS 1.2 and 1.3. */
final class Listening {
    private Listening() {}

    static void on(JettyConfig jetty, WebSettings settings) {
        if (settings.identity() == null) {
            jetty.host = settings.host();
            jetty.port = settings.port();
        } else {
            jetty.addConnector((server, http) -> secure(server, http, settings));
        }
    }

    private static ServerConnector secure(
            Server server, HttpConfiguration plain, WebSettings settings) {
        char[] password = Identity.freshPassword();
        SslContextFactory.Server tls = new SslContextFactory.Server();
        tls.setKeyStore(settings.identity().keyStore(password));
        tls.setKeyManagerPassword(new String(password));
        tls.setIncludeProtocols("TLSv1.2", "TLSv1.3");
        HttpConfiguration https = new HttpConfiguration(plain);
        // The name in the handshake is not compared: a logger called by its address sends none, and
        // the
        // guard compares the host of each request.
        https.addCustomizer(new SecureRequestCustomizer(false));
        ServerConnector connector =
                new ServerConnector(
                        server,
                        new SslConnectionFactory(tls, "http/1.1"),
                        new HttpConnectionFactory(https));
        connector.setHost(settings.host());
        connector.setPort(settings.port());
        return connector;
    }
}
