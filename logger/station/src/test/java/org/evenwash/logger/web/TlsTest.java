package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assumptions.assumeThat;

import java.io.IOException;
import java.net.Inet4Address;
import java.net.InetAddress;
import java.net.NetworkInterface;
import java.net.SocketException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Optional;
import java.util.Set;
import javax.net.ssl.SSLException;
import org.evenwash.logger.cli.Run;
import org.evenwash.logger.store.Role;
import org.evenwash.logger.tls.Authority;
import org.evenwash.logger.tls.Authority.Server;
import org.evenwash.logger.tls.CertificateTrouble;
import org.evenwash.logger.tls.Identity;
import org.evenwash.logger.tls.Trust;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Pages over TLS with certificates of our own authority, and when these are to be renewed. */
class TlsTest {
    @TempDir Path folder;
    private Scene scene;

    @BeforeEach
    void open() {
        scene = Scene.populated(folder);
        scene.passwords();
    }

    @AfterEach
    void close() {
        scene.close();
    }

    private Authority authority(String name, Instant at) {
        Authority authority = new Authority(folder.resolve(name), Clock.fixed(at, ZoneOffset.UTC));
        authority.create("a test");
        authority.issue(Server.WEB, Set.of("yard.example", "192.0.2.7"));
        return authority;
    }

    private WebServer serve(Identity identity) {
        WebSettings settings = new WebSettings("0.0.0.0", 0, Set.of(), identity, false);
        return WebServer.start(scene.database, scene.place, scene.board, settings, scene.around);
    }

    private static HttpResponse<String> get(HttpClient client, URI address)
            throws IOException, InterruptedException {
        HttpRequest request =
                HttpRequest.newBuilder(address).timeout(Duration.ofSeconds(20)).build();
        return client.send(request, HttpResponse.BodyHandlers.ofString());
    }

    @Test
    void beyondLoopback_withCertificates_servesWhoTrustsTheAuthority() throws Exception {
        Authority ours = authority("tls", Instant.now());
        Authority other = authority("other", Instant.now());
        try (WebServer server = serve(Server.WEB.in(folder.resolve("tls")))) {
            assertThat(server.address().getScheme()).isEqualTo("https");
            HttpClient phone =
                    HttpClient.newBuilder().sslContext(Trust.context(ours.trust())).build();
            var page = get(phone, server.address().resolve("/sign-in"));
            assertThat(page.statusCode()).as(page.body()).isEqualTo(200);
            assertThat(page.headers().firstValue("Set-Cookie").orElse(""))
                    .startsWith("__Host-evenwash-session=")
                    .contains("Secure");
            assertThat(page.headers().firstValue("Strict-Transport-Security")).isPresent();

            HttpClient wary =
                    HttpClient.newBuilder().sslContext(Trust.context(other.trust())).build();
            assertThatThrownBy(() -> get(wary, server.address())).isInstanceOf(SSLException.class);
            URI plain = URI.create("http://127.0.0.1:" + server.port() + "/sign-in");
            assertThatThrownBy(() -> get(HttpClient.newHttpClient(), plain))
                    .isInstanceOf(IOException.class);
        }
    }

    @Test
    void certificateThatEndsSoon_isToldToKeepers_onEveryPage() throws Exception {
        Authority old = authority("tls", Instant.now().minus(Duration.ofDays(380)));
        Identity identity = Server.WEB.in(folder.resolve("tls"));
        assertThat(identity.endsSoon(Instant.now())).isTrue();
        assertThat(identity.names()).contains("yard.example", "192.0.2.7", "localhost");
        try (WebServer server = serve(identity)) {
            HttpClient phone =
                    HttpClient.newBuilder().sslContext(Trust.context(old.trust())).build();
            assertThat(get(phone, server.address().resolve("/sign-in")).body())
                    .doesNotContain("certificate ends");
            String secret = scene.token("ada", "look", Role.KEEPER, 1);
            HttpRequest asKeeper =
                    HttpRequest.newBuilder(server.address().resolve("/more"))
                            .header("Authorization", "Bearer " + secret)
                            .build();
            assertThat(phone.send(asKeeper, HttpResponse.BodyHandlers.ofString()).body())
                    .contains("A certificate ends on");
            assertThat(get(phone, server.address().resolve("/metrics")).body())
                    .contains("evenwash_certificate_end_seconds{file=\"web.pem\"} ");
        }
    }

    @Test
    void commands_makeRenewAndWatchCertificates() {
        Path data = folder.resolve("data");
        Run made = Run.of("ca", "create", "yard.example", "192.0.2.7", "--data", "" + data);
        assertThat(made.exit()).as(made.err()).isZero();
        assertThat(made.words()).contains("trust.pem", "good until", "yard.example");
        Identity first = Server.WEB.in(data.resolve("tls"));
        Run again = Run.of("ca", "create", "yard.example", "--data", "" + data);
        assertThat(again.exit()).isEqualTo(1);
        assertThat(again.err()).contains("already", "ca renew");
        assertThat(Run.of("ca", "renew", "--data", "" + data).exit()).isZero();
        assertThat(Server.WEB.in(data.resolve("tls")).names()).isEqualTo(first.names());
        assertThat(Run.of("ca", "status", "--data", "" + data).exit()).isZero();
        new Authority(
                        data.resolve("tls"),
                        Clock.fixed(Instant.now().minus(Duration.ofDays(380)), ZoneOffset.UTC))
                .issue(Server.WEB, Set.of());
        Run due = Run.of("ca", "status", "--data", "" + data);
        assertThat(due.exit()).isEqualTo(1);
        assertThat(due.words()).contains("TO BE RENEWED", "ca renew");
    }

    @Test
    void keyOfAnotherCertificate_orNoCertificate_isToldWithTheFile() throws IOException {
        authority("tls", Instant.now());
        authority("other", Instant.now());
        Path certificate = Server.WEB.certificate(folder.resolve("tls"));
        assertThatThrownBy(
                        () -> Identity.read(certificate, Server.WEB.key(folder.resolve("other"))))
                .isInstanceOf(CertificateTrouble.class)
                .hasMessageContaining("does not belong");
        Path empty = Files.writeString(folder.resolve("empty.pem"), "nothing");
        assertThatThrownBy(() -> Identity.read(empty, empty))
                .isInstanceOf(CertificateTrouble.class)
                .hasMessageContaining("empty.pem");
        assertThatThrownBy(() -> Identity.read(certificate, empty))
                .isInstanceOf(CertificateTrouble.class)
                .hasMessageContaining("openssl pkcs8");
    }

    @Test
    void figures_areForThisMachineAndTokens_andInTheFormatOfPrometheus() throws Exception {
        String text = new Visitor(scene).get("/metrics").body();
        assertThat(text.lines().filter(line -> !line.startsWith("#")))
                .isNotEmpty()
                .allMatch(
                        line ->
                                line.matches(
                                        "[a-z_]+(\\{[a-z]+=\"[^\"]*\"})? -?[0-9.]+(E[0-9]+)?"));
        assertThat(text)
                .contains(
                        "evenwash_up 1\n",
                        "evenwash_cycles 3\n",
                        "evenwash_set_aside_messages 1\n",
                        "evenwash_database_bytes ",
                        "evenwash_http_request_seconds_bucket{le=\"+Inf\"}");
        WebSettings proxied = new WebSettings("127.0.0.1", 0, Set.of(), null, true);
        try (WebServer server =
                WebServer.start(scene.database, scene.place, scene.board, proxied, scene.around)) {
            HttpRequest throughProxy =
                    HttpRequest.newBuilder(server.address().resolve("/metrics"))
                            .header("X-Forwarded-Proto", "https")
                            .header("Accept", "application/json")
                            .build();
            var refused =
                    HttpClient.newHttpClient()
                            .send(throughProxy, HttpResponse.BodyHandlers.ofString());
            assertThat(refused.statusCode()).isIn(303, 401);
            assertThat(refused.body()).doesNotContain("evenwash_cycles");
        }
    }

    /** As a scraper on another machine does: its request does not come from loopback. */
    @Test
    void figures_beyondThisMachine_needAToken() throws Exception {
        String here = addressBeyondLoopback();
        Authority ours = new Authority(folder.resolve("tls"), Clock.systemUTC());
        ours.create("a test");
        ours.issue(Server.WEB, Set.of(here));
        HttpClient scraper =
                HttpClient.newBuilder().sslContext(Trust.context(ours.trust())).build();
        try (WebServer server = serve(Server.WEB.in(folder.resolve("tls")))) {
            URI from = URI.create("https://" + here + ":" + server.port() + "/");
            assertThat(get(scraper, from.resolve("health")).body()).isEqualTo("up\n");

            var refused = get(scraper, from.resolve("metrics"));
            assertThat(refused.statusCode()).isIn(303, 401);
            assertThat(refused.body()).doesNotContain("evenwash_cycles");

            String token = scene.token("ada", "scraper", null, 1);
            HttpRequest withToken =
                    HttpRequest.newBuilder(from.resolve("metrics"))
                            .header("Authorization", "Bearer " + token)
                            .build();
            var told = scraper.send(withToken, HttpResponse.BodyHandlers.ofString());
            assertThat(told.statusCode()).isEqualTo(200);
            assertThat(told.body()).contains("evenwash_cycles 3");
        }
    }

    private static String addressBeyondLoopback() throws SocketException {
        Optional<String> address =
                NetworkInterface.networkInterfaces()
                        .flatMap(NetworkInterface::inetAddresses)
                        .filter(a -> a instanceof Inet4Address && !a.isLoopbackAddress())
                        .map(InetAddress::getHostAddress)
                        .findFirst();
        assumeThat(address).as("a network beside loopback").isPresent();
        return address.orElseThrow();
    }
}
