package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.InetAddress;
import java.net.Socket;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.UUID;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.Ticket;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The HTTP interface as a program and as a form without script would use it. */
class ApiTest {
    private Scene scene;
    private Visitor visitor;

    @BeforeEach
    void open(@TempDir Path folder) {
        scene = Scene.populated(folder);
        visitor = new Visitor(scene);
    }

    @AfterEach
    void close() {
        scene.close();
    }

    private static JsonNode result(HttpResponse<String> answer) {
        assertThat(answer.statusCode()).as(answer.body()).isIn(200, 201);
        return Visitor.read(answer).get("result");
    }

    private static JsonNode problem(HttpResponse<String> answer, int status) {
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(status);
        assertThat(answer.headers().firstValue("Content-Type").orElse(""))
                .startsWith("application/problem+json");
        return Visitor.read(answer);
    }

    /**
     * Common practice, no source: 2 mites in 300 bees read 0.67 per 100. Limits: Garwood 1936,
     * Biometrika 28:437–442, for a count of 2: 0.2422 and 7.2247, divided by 3.
     */
    @Test
    void washFromYardToResult_throughTheInterfaceAlone() {
        String apiary =
                result(
                                visitor.post(
                                        "/api/apiaries",
                                        "{\"name\":\"Mill Field\",\"timeZone\":\"Etc/UTC\","
                                                + "\"hemisphere\":\"NORTHERN\"}"))
                        .get("id")
                        .asText();
        String colony =
                result(
                                visitor.post(
                                        "/api/colonies",
                                        "{\"apiaryId\":\"" + apiary + "\",\"name\":\"Elder\"}"))
                        .get("id")
                        .asText();
        JsonNode wash =
                result(
                        visitor.post(
                                "/api/washes",
                                "{\"colonyId\":\""
                                        + colony
                                        + "\",\"frame\":\"BROOD_NEST\",\"benchId\":\"shed-1\","
                                        + "\"recipe\":\"two-minutes:1\",\"spiritBatchId\":\""
                                        + scene.batch.id()
                                        + "\"}"));
        String id = wash.get("id").asText();
        assertThat(scene.link.tickets).hasSize(1);
        assertThat(scene.link.tickets.get(0).action()).isEqualTo(Ticket.Action.LOAD);
        // Lower than what was entered: the printed table at 48.5 %vol (engineeringtoolbox.com),
        // less 3.
        assertThat(scene.link.tickets.get(0).spirit().flashPoint_C()).isCloseTo(21.3, within(1e-6));
        result(
                visitor.post(
                        "/api/washes/" + id + "/counts",
                        "{\"mites\":2,\"bees\":300,\"countedBy\":\"" + scene.ada.id() + "\"}"));
        result(
                visitor.post(
                        "/api/cycles/" + scene.loose.cycleId() + "/attach",
                        "{\"washId\":\"" + id + "\",\"position\":1,\"pass\":\"FIRST\"}"));
        JsonNode document = visitor.json("/api/washes/" + id);
        JsonNode infestation = document.get("infestation");
        assertThat(infestation.get("per100Bees").asDouble()).isCloseTo(0.6667, within(5e-5));
        assertThat(infestation.get("lower").asDouble()).isCloseTo(0.0807364, within(5e-8));
        assertThat(infestation.get("upper").asDouble()).isCloseTo(2.4082292, within(5e-8));
        assertThat(document.at("/passes/0/agitation_s").asDouble()).isEqualTo(120);
        assertThat(visitor.get("/washes/" + id).body()).contains("0.67", "120 s");
    }

    @ParameterizedTest
    @CsvSource({
        "-1, Mites reads -1; expected 0",
        "many, needs a whole number",
        "2.5, needs a whole number",
        "'', Mites is missing"
    })
    void miteCountThatCannotBe_isRefusedNamingTheField(String mites, String message) {
        JsonNode problem =
                problem(
                        visitor.post(
                                "/api/washes/" + scene.fresh.id() + "/counts",
                                "{\"mites\":\"" + mites + "\"}"),
                        422);
        assertThat(problem.at("/fields/0/field").asText()).isEqualTo("mites");
        assertThat(problem.at("/fields/0/message").asText()).contains(message);
    }

    /** SQLite holds it, PostgreSQL has no such character; neither may make an error of ours of it. */
    @Test
    void characterThatOneDatabaseCannotHold_isAMistakeOfTheRequest() {
        assertThat(visitor.get("/colonies?name=%00").statusCode()).isIn(200, 400);
        String plan =
                "{\"frame\":\"BROOD_NEST\",\"colonyId\":\""
                        + scene.fresh.colonyId()
                        + "\",\"remarks\":\"a\\u0000b\"}";
        JsonNode problem = problem(visitor.post("/api/washes", plan), 422);
        assertThat(problem.toString()).contains("control character");
    }

    @Test
    void noBees_isRefused_andNothingIsWritten() {
        String counts = "/api/washes/" + scene.fresh.id() + "/counts";
        JsonNode problem = problem(visitor.post(counts, "{\"mites\":2,\"bees\":0}"), 422);
        assertThat(problem.at("/fields/0/field").asText()).isEqualTo("bees");
        assertThat(scene.place.sheets().of(scene.fresh.id()).mites()).isEmpty();
    }

    @Test
    void severalMistakes_areAllNamedAtOnce() {
        JsonNode problem =
                problem(
                        visitor.post(
                                "/api/apiaries",
                                "{\"timeZone\":\"Nowhere/Atall\",\"hemisphere\":\"eastern\"}"),
                        422);
        assertThat(problem.get("fields").findValuesAsText("field"))
                .containsExactlyInAnyOrder("name", "timeZone", "hemisphere");
    }

    @Test
    void formWithoutScript_isAnsweredWithAPageThatNamesTheField() {
        HttpResponse<String> answer = visitor.form("/api/operators", "name=");
        assertThat(answer.statusCode()).isEqualTo(422);
        assertThat(answer.body()).contains("Name is missing", "Back to the form", "/operators");
        HttpResponse<String> good = visitor.form("/api/operators", "name=Carol");
        assertThat(good.statusCode()).isEqualTo(303);
        assertThat(good.headers().firstValue("Location")).contains("/operators");
    }

    @Test
    void malformedOrForeignBody_is400() {
        assertThat(problem(visitor.post("/api/operators", "{name"), 400).get("title").asText())
                .startsWith("The JSON cannot be read");
        problem(visitor.post("/api/operators", "[1,2]"), 400);
    }

    @Test
    void bodyOverTheLimit_is413() {
        String remarks = "x".repeat(WebServer.LARGEST_BODY + 1);
        JsonNode problem =
                problem(visitor.post("/api/operators", "{\"name\":\"" + remarks + "\"}"), 413);
        assertThat(problem.get("detail").asText()).contains("64 KiB");
    }

    @Test
    void takenName_is409InWords() {
        JsonNode problem = problem(visitor.post("/api/operators", "{\"name\":\"Ada\"}"), 409);
        assertThat(problem.get("title").asText()).contains("Ada", "there already");
        assertThat(problem.get("detail").asText()).contains("another name");
    }

    /** Found by the fuzz: the id of a colony where a person is meant. */
    @Test
    void personThatIsNotThere_is404InWords() {
        String colony = scene.alder.id().toString();
        String body = "{\"colonyId\":\"%s\",\"operatorId\":\"%s\"}".formatted(colony, colony);
        JsonNode problem = problem(visitor.post("/api/washes", body), 404);
        assertThat(problem.get("title").asText()).contains("Operator", colony);
    }

    @Test
    void sameKeyTwice_isDoneOnce() {
        String body = "{\"mites\":4,\"bees\":310,\"idempotencyKey\":\"" + UUID.randomUUID() + "\"}";
        String path = "/api/washes/" + scene.fresh.id() + "/counts";
        JsonNode first = result(visitor.post(path, body));
        JsonNode again = result(visitor.post(path, body));
        assertThat(again.get("id")).isEqualTo(first.get("id"));
        assertThat(scene.place.sheets().of(scene.fresh.id()).mites()).contains(4);
        assertThat(scene.place.sheets().of(scene.fresh.id()).wash().bees()).isEqualTo(310);
    }

    @Test
    void twoPeopleCorrectTheSameCount_secondIsShownWhatChanged_andNothingIsLost() {
        var count = scene.place.sheets().of(scene.counted.id()).passes().get(0).firstCount().get();
        String path = "/api/counts/" + count.id() + "/correction";
        result(
                visitor.post(
                        path,
                        "{\"mites\":8,\"version\":1,\"why\":\"one was a bee louse\",\"by\":\""
                                + scene.brook.id()
                                + "\"}"));
        Visitor other = new Visitor(scene);
        String late = "{\"mites\":11,\"version\":1,\"why\":\"two more in the jar\"}";
        JsonNode problem = problem(other.post(path, late), 409);
        assertThat(problem.get("code").asText()).isEqualTo("changed-meanwhile");
        assertThat(problem.at("/changes/0/before").asText()).isEqualTo("9");
        assertThat(problem.at("/changes/0/now").asText()).isEqualTo("8");
        assertThat(problem.at("/changes/0/who").asText()).isEqualTo("Brook");
        long version = problem.get("version").asLong();
        result(other.post(path, late.replace("\"version\":1", "\"version\":" + version)));
        assertThat(visitor.get("/washes/" + scene.counted.id()).body())
                .contains("9 → 8", "8 → 11", "one was a bee louse", "two more in the jar");
    }

    @Test
    void writeWithoutToken_isRefused() {
        HttpRequest.Builder bare =
                visitor.request("/api/operators")
                        .POST(HttpRequest.BodyPublishers.ofString("{\"name\":\"Mallory\"}"))
                        .header("Content-Type", "application/json");
        assertThat(problem(visitor.send(bare), 403).get("code").asText()).isEqualTo("csrf");
        String foreign = new Visitor(scene).json("/api/session").get("csrf").asText();
        visitor.get("/");
        problem(visitor.send(bare.header("X-CSRF-Token", foreign)), 403);
        assertThat(scene.place.yard().operators()).extracting("name").doesNotContain("Mallory");
    }

    @Test
    void everyAnswer_carriesTheSecurityHeaders() {
        for (String path : new String[] {"/", "/api/washes", "/assets/css/evenwash.css", "/no"}) {
            var headers = visitor.get(path).headers();
            assertThat(headers.firstValue("Content-Security-Policy").orElse(""))
                    .as(path)
                    .contains("default-src 'none'", "script-src 'self'", "frame-ancestors 'none'")
                    .doesNotContain("unsafe");
            assertThat(headers.firstValue("X-Content-Type-Options")).as(path).contains("nosniff");
            assertThat(headers.firstValue("Referrer-Policy")).as(path).contains("same-origin");
        }
        var cookie = new Visitor(scene).get("/").headers().firstValue("Set-Cookie").orElse("");
        assertThat(cookie).contains("HttpOnly", "SameSite=Lax");
    }

    @Test
    void pageUnderAForeignName_isNotServed() throws Exception {
        // java.net.http sets Host itself: a plain socket says what an attacker's name would.
        try (var socket = new Socket(InetAddress.getLoopbackAddress(), scene.server.port())) {
            socket.getOutputStream()
                    .write(
                            "GET / HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n"
                                    .getBytes(StandardCharsets.US_ASCII));
            String answer =
                    new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
            assertThat(answer).startsWith("HTTP/1.1 421");
        }
    }

    @Test
    void holdAndStop_reachTheBench_andThereIsNoStart() {
        String cycle = "{\"cycleId\":\"" + new UUID(9, 9) + "\"}";
        assertThat(visitor.post("/api/benches/shed-1/hold", cycle).statusCode()).isEqualTo(200);
        assertThat(visitor.post("/api/benches/shed-1/stop", cycle).statusCode()).isEqualTo(200);
        assertThat(scene.link.commands)
                .extracting(BenchCommand::action)
                .containsExactly(BenchCommand.Action.HOLD, BenchCommand.Action.STOP);
        problem(visitor.post("/api/benches/shed-1/start", cycle), 404);
        problem(visitor.post("/api/benches/shed-9/hold", cycle), 404);
    }

    @Test
    void washWithoutABench_takesSecondsByHand() {
        String path = "/api/washes/" + scene.fresh.id();
        result(visitor.post(path + "/passes", "{\"handAgitation_s\":60}"));
        result(visitor.post(path + "/counts", "{\"mites\":0,\"bees\":300}"));
        String page = visitor.get("/washes/" + scene.fresh.id()).body();
        assertThat(page).contains("Shaken by hand for 60 s", "0, up to 1.23");
    }

    @Test
    void ticket_canBeTakenBack() {
        JsonNode ticket =
                result(
                        visitor.post(
                                "/api/washes/" + scene.fresh.id() + "/tickets",
                                "{\"benchId\":\"shed-1\",\"recipe\":\"two-minutes:1\"}"));
        String withdraw = "/api/tickets/" + ticket.get("id").asText() + "/withdraw";
        assertThat(result(visitor.post(withdraw, "{}")).get("standing").asText())
                .isEqualTo("WITHDRAWN");
        assertThat(scene.link.tickets.get(1).action()).isEqualTo(Ticket.Action.WITHDRAW);
        problem(visitor.post(withdraw, "{}"), 409);
    }

    @Test
    void chosenThreshold_givesAVerdict_andNoneWithoutIt() {
        String page = "/washes/" + scene.counted.id();
        assertThat(visitor.get(page).body()).contains("No threshold is chosen");
        String id = scene.place.standards().thresholds().keySet().iterator().next();
        assertThat(visitor.post("/api/standards", "{\"thresholdId\":\"" + id + "\"}").statusCode())
                .isEqualTo(200);
        assertThat(visitor.get(page).body()).doesNotContain("No threshold is chosen");
        assertThat(
                        visitor.json("/api/washes/" + scene.counted.id())
                                .at("/verdict/threshold")
                                .asText())
                .isEqualTo(id);
        visitor.post("/api/standards", "{\"noThreshold\":true}");
        assertThat(visitor.get(page).body()).contains("No threshold is chosen");
        problem(visitor.post("/api/standards", "{\"thresholdId\":\"mine\"}"), 422);
    }
}
