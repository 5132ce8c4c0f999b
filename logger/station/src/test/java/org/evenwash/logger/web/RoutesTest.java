package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import io.javalin.http.HandlerType;
import java.io.IOException;
import java.io.InputStream;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Supplier;
import org.assertj.core.api.SoftAssertions;
import org.evenwash.logger.access.FrontDoor;
import org.evenwash.logger.secret.RandomSecret;
import org.evenwash.logger.store.Role;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Walks the route table: each route with no sign-in, with each role, and with tokens. */
class RoutesTest {
    private static final String NO_SUCH_ID = "00000000-0000-0000-0000-000000000000";
    private static final Map<Role, String> NAMES =
            Map.of(Role.OPERATOR, "cleo", Role.REVIEWER, "brook", Role.KEEPER, "ada");

    private static Scene scene;
    private static final HttpClient CLIENT = HttpClient.newHttpClient();
    private static final Map<Role, Map<String, String>> READERS = new EnumMap<>(Role.class);
    private static final Map<Role, Map<String, String>> TOKENS = new EnumMap<>(Role.class);
    private static Map<String, String> figuresToken;
    private static int addresses;

    @BeforeAll
    static void open(@TempDir Path folder) {
        scene = Scene.populated(folder);
        scene.passwords();
        figuresToken = token(null);
        for (Role role : Role.values()) {
            TOKENS.put(role, token(role));
        }
    }

    @AfterAll
    static void close() {
        scene.close();
    }

    /** How a request proves who it comes from: headers to send with it. */
    private static Map<String, String> session(Role role) {
        String address = "192.0.2." + ++addresses;
        String secret =
                ((FrontDoor.Outcome.SignedIn)
                                scene.doors.front.signIn(NAMES.get(role), Scene.PASSWORD, address))
                        .secret();
        return Map.of(
                "Cookie",
                "evenwash-session=" + secret,
                "X-CSRF-Token",
                RandomSecret.derived("csrf", secret));
    }

    /** For reading one session will do; a write may be the one that ends it. */
    private static Map<String, String> session(Role role, Route route) {
        return route.method().equals(HandlerType.GET)
                ? READERS.computeIfAbsent(role, RoutesTest::session)
                : session(role);
    }

    /** A stranger who knows all about tokens against forged requests, and has one. */
    private static Map<String, String> stranger() {
        String secret = RandomSecret.make();
        return Map.of(
                "Cookie",
                "evenwash-session=" + secret,
                "X-CSRF-Token",
                RandomSecret.derived("csrf", secret));
    }

    private static Map<String, String> token(Role role) {
        String secret = scene.token("ada", "walk", role, 1);
        return Map.of("Authorization", "Bearer " + secret);
    }

    /** As with sessions: a write may withdraw all tokens of its account. */
    private static Map<String, String> token(Role role, Route route) {
        Map<String, String> kept = role == null ? figuresToken : TOKENS.get(role);
        return route.method().equals(HandlerType.GET) ? kept : token(role);
    }

    private static boolean letIn(Route route, Map<String, String> proof) {
        HttpRequest.Builder request =
                HttpRequest.newBuilder(
                                java.net.URI.create(
                                        scene.address(
                                                route.path()
                                                        .replace("{id}", NO_SUCH_ID)
                                                        .replaceAll("\\{[a-zA-Z]+}", "nowhere"))))
                        .timeout(Duration.ofSeconds(20))
                        .header("Accept", "application/json");
        proof.forEach(request::header);
        if (route.method().equals(HandlerType.GET)) {
            request.GET();
        } else {
            request.method(
                            route.method().name(),
                            HttpRequest.BodyPublishers.ofString("{\"name\": \"x\"}"))
                    .header("Content-Type", "application/json");
        }
        try {
            HttpResponse<InputStream> answer =
                    CLIENT.send(request.build(), HttpResponse.BodyHandlers.ofInputStream());
            answer.body().close();
            assertThat(answer.statusCode()).as("" + route).isLessThan(500);
            String to = answer.headers().firstValue("Location").orElse("");
            boolean toSignIn = to.startsWith("/sign-in") || to.contains("/sign-in?");
            return answer.statusCode() != 401
                    && answer.statusCode() != 403
                    && !(toSignIn && !route.path().startsWith("/sign-"));
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        } catch (InterruptedException e) {
            throw new IllegalStateException(e);
        }
    }

    /** Signing in is told apart from being let in to it by the same status; it has its own tests. */
    private static List<Route> walked() {
        List<Route> all = new ArrayList<>(scene.server.routes());
        all.removeIf(
                route ->
                        route.method().equals(HandlerType.POST) && route.path().equals("/sign-in"));
        // Reading first: a write such as signing out everywhere ends the readers' sessions.
        all.sort(Comparator.comparing(route -> !route.method().equals(HandlerType.GET)));
        return all;
    }

    @Test
    void everyRoute_asksForWhatItsRuleSays_andForNothingElse() {
        SoftAssertions all = new SoftAssertions();
        for (Route route : walked()) {
            all.assertThat(route.access()).as(route.path()).isNotNull();
            Map<String, Boolean> expected = new LinkedHashMap<>();
            Map<String, Supplier<Map<String, String>>> proofs = new LinkedHashMap<>();
            boolean open = route.access() == Access.EVERYBODY;
            boolean figures = route.access() == Access.METRICS;
            proofs.put("stranger", RoutesTest::stranger);
            expected.put("stranger", open || figures);
            proofs.put("token for figures", () -> token(null, route));
            expected.put("token for figures", open || figures);
            for (Role role : Role.values()) {
                boolean may =
                        open
                                || figures
                                || (route.access().least() != null
                                        && role.covers(route.access().least()));
                proofs.put("session " + role, () -> session(role, route));
                expected.put("session " + role, may);
                proofs.put("token " + role, () -> token(role, route));
                expected.put("token " + role, may);
            }
            proofs.forEach(
                    (who, proof) ->
                            all.assertThat(letIn(route, proof.get()))
                                    .as(who + ": " + route.method() + " " + route.path())
                                    .isEqualTo(expected.get(who)));
        }
        all.assertAll();
    }

    /** What a stranger may reach, by name: a new row here is a decision. */
    @Test
    void openToEverybody_isOnlyThis() {
        assertThat(
                        scene.server.routes().stream()
                                .filter(route -> route.access() == Access.EVERYBODY)
                                .filter(route -> !route.path().startsWith("/assets/"))
                                .map(route -> route.method() + " " + route.path()))
                .containsExactlyInAnyOrder(
                        "GET /sign-in",
                        "POST /sign-in",
                        "POST /sign-out",
                        "GET /health",
                        "GET /api/session");
    }

    @Test
    void nothingIsServed_thatIsNotInTheTable() {
        Visitor stranger = new Visitor(scene);
        var answer = stranger.get("/../../etc/passwd");
        assertThat(answer.statusCode()).isIn(303, 400, 401);
        assertThat(stranger.get("/nowhere").statusCode()).isEqualTo(303);
        assertThat(stranger.get("/assets/../WEB-INF").statusCode()).isIn(303, 400, 404);
        // Found by the fuzz: a slash at the end leads to the same route by another path.
        assertThat(stranger.get("/assets/css/evenwash.css/").statusCode()).isEqualTo(200);
    }

    @Test
    void everyWrite_withoutTheSessionsToken_isRefused() {
        SoftAssertions all = new SoftAssertions();
        String cookie = session(Role.KEEPER).get("Cookie");
        for (Route route : walked()) {
            if (route.method().equals(HandlerType.POST)) {
                all.assertThat(letIn(route, Map.of("Cookie", cookie))).as(route.path()).isFalse();
                all.assertThat(
                                letIn(
                                        route,
                                        Map.of(
                                                "Cookie",
                                                cookie,
                                                "X-CSRF-Token",
                                                stranger().get("X-CSRF-Token"))))
                        .as(route.path() + " with another session's")
                        .isFalse();
            }
        }
        all.assertAll();
    }
}
