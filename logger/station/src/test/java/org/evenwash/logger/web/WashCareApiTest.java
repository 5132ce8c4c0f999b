package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.BooleanNode;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Base64;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.BlackPng;
import org.evenwash.logger.store.Handling;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.StoredTicket;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.NewWash;
import org.evenwash.record.Pass;
import org.evenwash.record.Ticket;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Later passes, estimated bees, photos, and taking back what was a mistake. */
class WashCareApiTest {
    /** One transparent pixel. */
    private static final byte[] PNG =
            Base64.getDecoder()
                    .decode(
                            "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg==");

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

    private String calibrate(String kind, String inputs) {
        String id = UUID.randomUUID().toString();
        scene.database.change(
                handle ->
                        handle.execute(
                                "INSERT INTO calibration (id, kind, name, inputs_json, result_json,"
                                        + " method_version, simulated, made_at, used_from) VALUES (?,"
                                        + " ?, 'jar line', ?, '{}', '1', FALSE, 1, 1)",
                                id,
                                kind,
                                inputs));
        return id;
    }

    private JsonNode sample(String fields) {
        HttpResponse<String> answer =
                visitor.post(
                        "/api/washes/" + scene.fresh.id() + "/sample",
                        "{\"version\":1,\"sampledOn\":\"2031-05-20\"," + fields + "}");
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
        return Visitor.read(answer).get("result");
    }

    /**
     * Five jars filled to one line: mean 300, standard deviation sqrt(1000/4) = 15.81; the next jar's
     * standard error sqrt(1 + 1/5) times that, 17.32; Student's t for 4 degrees of freedom at 97.5 %
     * is 2.776 (any table), so the log spread is sqrt(ln(1 + (2.776·17.32/(1.96·300))²)) = 0.0816.
     */
    @Test
    void filledToALine_beesAreEstimated_andTheInfestationWidens() {
        calibrate("FILL_LINE", "{\"bees\":[280,290,300,310,320]}");
        JsonNode wash = sample("\"beeMeasure\":\"FILL_LINE\"");
        assertThat(wash.get("bees").asDouble()).isCloseTo(300, within(1e-9));
        assertThat(wash.get("beesLogSd").asDouble()).isCloseTo(0.0816, within(1e-4));
        visitor.post("/api/washes/" + scene.fresh.id() + "/counts", "{\"mites\":9}");
        JsonNode estimated = visitor.json("/api/washes/" + scene.fresh.id()).get("infestation");
        // Counted: 9 in 300, Garwood 1936: 4.1154/3 to 17.0848/3.
        assertThat(estimated.get("lower").asDouble()).isLessThan(1.3718);
        assertThat(estimated.get("upper").asDouble()).isGreaterThan(5.6949);
        assertThat(visitor.get("/washes/" + scene.fresh.id()).body())
                .contains("95 %: 256–352")
                .doesNotContain("Provisional");
    }

    @Test
    void fewJarsAndAMassBeyondThem_areSaidBesideTheVerdict() {
        calibrate("MASS", "{\"grams\":[30,36,42],\"bees\":[250,300,350]}");
        sample("\"beeMeasure\":\"MASS\",\"sampleMass_g\":60");
        String wash = "/washes/" + scene.fresh.id();
        visitor.post("/api" + wash + "/counts", "{\"mites\":9}");
        assertThat(visitor.json("/api" + wash).get("infestation").get("remarks").toString())
                .contains("fewer than 5 counted calibration samples")
                .contains("Extrapolated: the calibration supports samples from 21.0 to 54.6 g.");
        assertThat(visitor.get(wash).body()).contains("Provisional: ", "Extrapolated: ");
    }

    @Test
    void weighed_beesFollowTheMass_andATypedNumberWins() {
        calibrate("MASS", "{\"grams\":[30,36,42],\"bees\":[250,300,350]}");
        JsonNode wash = sample("\"beeMeasure\":\"MASS\",\"sampleMass_g\":39");
        assertThat(wash.get("bees").asDouble()).isCloseTo(325, within(1e-9));
        visitor.post(
                "/api/washes/" + scene.fresh.id() + "/sample",
                "{\"version\":2,\"sampledOn\":\"2031-05-20\",\"beeMeasure\":\"COUNTED\","
                        + "\"bees\":311,\"why\":\"counted after all\",\"sampleMass_g\":39}");
        var now = scene.place.washes().wash(scene.fresh.id());
        assertThat(now.bees()).isEqualTo(311);
        assertThat(now.beesLogSd()).isNull();
        assertThat(now.sampleMass_g()).isEqualTo(39);
    }

    @Test
    void twoFillLinesInUse_theOneMeantIsNotGuessed() {
        String small = calibrate("FILL_LINE", "{\"bees\":[190,200,210]}");
        calibrate("FILL_LINE", "{\"bees\":[290,300,310]}");
        assertThat(sample("\"beeMeasure\":\"FILL_LINE\"").get("bees").isNull()).isTrue();
        assertThat(visitor.get("/washes/" + scene.fresh.id()).body()).contains("say which jar");
        visitor.post(
                "/api/washes/" + scene.fresh.id() + "/sample",
                "{\"version\":2,\"sampledOn\":\"2031-05-20\",\"beeMeasure\":\"FILL_LINE\","
                        + "\"calibrationId\":\""
                        + small
                        + "\"}");
        assertThat(scene.place.washes().wash(scene.fresh.id()).bees()).isCloseTo(200, within(1e-9));
    }

    /** As the form sends it before the bees are counted. */
    @Test
    void calibrationInUse_isLeftAlone_whileNothingIsSaidAboutTheBees() {
        calibrate("FILL_LINE", "{\"bees\":[290,300,310]}");
        JsonNode wash = sample("\"queenCheck\":\"SEEN_ELSEWHERE\"");
        assertThat(wash.path("bees").isNull()).isTrue();
        assertThat(wash.get("queenCheck").asText()).isEqualTo("SEEN_ELSEWHERE");
    }

    @Test
    void withoutACalibration_noBeesAreInvented() {
        assertThat(sample("\"beeMeasure\":\"FILL_LINE\"").path("bees").isNull()).isTrue();
    }

    @Test
    void handling_isEnteredWithTheSample_andWhatIsLeftOutStays() {
        JsonNode wash =
                sample(
                        "\"frames\":3,\"liquid_mL\":\"150,5\",\"beesCovered\":true,"
                                + "\"beeSieve_mm\":3.2,\"miteSieve_mm\":0.4,"
                                + "\"jarWallsChecked\":false,\"timesWashed\":3");
        assertThat(wash.get("frames").asInt()).isEqualTo(3);
        assertThat(wash.get("beesCovered").asBoolean()).isTrue();
        visitor.post(
                "/api/washes/" + scene.fresh.id() + "/sample",
                "{\"version\":2,\"sampledOn\":\"2031-05-20\",\"frames\":\"\"}");

        assertThat(scene.place.washes().wash(scene.fresh.id()).handling())
                .isEqualTo(new Handling(null, 150.5, true, 3.2, 0.4, false, 3));
        assertThat(visitor.json("/api/washes/" + scene.fresh.id()).at("/wash/jarWallsChecked"))
                .isEqualTo(BooleanNode.FALSE);
        assertThat(visitor.get("/washes/" + scene.fresh.id()).body())
                .contains("<dt>Liquid in the jar, mL</dt><dd>150.5</dd>")
                .contains("<dt>Jar and lid looked at for mites</dt><dd>no</dd>")
                .contains("<dt>Times the same bees were washed, in all</dt><dd>3</dd>")
                .contains(
                        "opening of the sieve that holds the bees</b>: <span class=\"state normal\">pass")
                .doesNotContain("<dt>Frames the bees came from</dt>");
    }

    @Test
    void handling_isEnteredWithTheCount_inOneEdit() {
        String washes = "/api/washes/" + scene.fresh.id();
        visitor.post(
                washes + "/counts",
                "{\"version\":1,\"mites\":2,\"bees\":300,\"beesCovered\":\"yes\",\"frames\":2}");
        var now = scene.place.washes().wash(scene.fresh.id());
        assertThat(now.handling()).isEqualTo(new Handling(2, null, true, null, null, null, null));
        assertThat(now.bees()).isEqualTo(300);
        assertThat(now.version()).isEqualTo(2);
        // A count alone touches nothing of the sample.
        visitor.post(washes + "/counts", "{\"mites\":1,\"pass\":\"SECOND\"}");
        assertThat(scene.place.washes().wash(scene.fresh.id())).isEqualTo(now);
    }

    @Test
    void handlingThatCannotBe_isRefusedByField() {
        HttpResponse<String> answer =
                visitor.post(
                        "/api/washes/" + scene.fresh.id() + "/sample",
                        "{\"version\":1,\"sampledOn\":\"2031-05-20\",\"frames\":0,"
                                + "\"beesCovered\":\"maybe\",\"beeSieve_mm\":300}");
        assertThat(answer.statusCode()).isEqualTo(422);
        assertThat(Visitor.read(answer).findValuesAsText("field"))
                .containsExactlyInAnyOrder("frames", "beesCovered", "beeSieve_mm");
        HttpResponse<String> swapped =
                visitor.post(
                        "/api/washes/" + scene.fresh.id() + "/sample",
                        "{\"version\":1,\"sampledOn\":\"2031-05-20\",\"beeSieve_mm\":0.4,"
                                + "\"miteSieve_mm\":3.2}");
        assertThat(swapped.statusCode()).isEqualTo(422);
        assertThat(swapped.body()).contains("no finer than that of the bee sieve");
    }

    @Test
    void sievesOfAnApiary_stand_onItsPage_andInTheFormOfItsNextWash() {
        var apiary = scene.place.yard().apiary(scene.alder.apiaryId());
        HttpResponse<String> answer =
                visitor.post(
                        "/api/apiaries/" + apiary.id(),
                        "{\"version\":1,\"name\":\"Hollow Lane\",\"timeZone\":\"Etc/UTC\","
                                + "\"hemisphere\":\"NORTHERN\",\"beeSieve_mm\":3.2,"
                                + "\"miteSieve_mm\":\"0,45\"}");
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
        assertThat(visitor.get("/apiaries/" + apiary.id()).body())
                .contains("<dt>Mesh of the mite sieve, mm</dt><dd>0.45</dd>");
        Wash next =
                scene.place
                        .washes()
                        .plan(NewWash.today(scene.alder.id(), scene.ada.id()), By.nobody());
        assertThat(visitor.get("/washes/" + next.id()).body())
                .contains(
                        "id=\"count-beeSieve_mm\" name=\"beeSieve_mm\" type=\"text\" value=\"3.2\"");
    }

    @Test
    void secondWashAndBlank_areCountedBesideTheFirst() {
        String counts = "/api/washes/" + scene.counted.id() + "/counts";
        assertThat(visitor.post(counts, "{\"mites\":2,\"pass\":\"SECOND\"}").statusCode())
                .isEqualTo(201);
        assertThat(visitor.post(counts, "{\"mites\":0,\"pass\":\"BLANK\"}").statusCode())
                .isEqualTo(201);
        String page = visitor.get("/washes/" + scene.counted.id()).body();
        assertThat(page).contains("2 mites", "Second wash,", "Blank (spirit alone)");
        assertThat(scene.place.sheets().of(scene.counted.id()).mites()).contains(9);
    }

    @Test
    void detachedCycle_isLooseAgain_andTheWashSaysWhy() {
        HttpResponse<String> answer =
                visitor.post(
                        "/api/cycles/" + scene.tied.cycleId() + "/detach",
                        "{\"position\":1,\"why\":\"the jars were swapped\"}");
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
        assertThat(Visitor.read(answer).get("page").asText())
                .isEqualTo("/washes/" + scene.counted.id());
        assertThat(scene.place.cycles().unassigned(Page.first(9)).total()).isEqualTo(2);
        assertThat(visitor.get("/washes/" + scene.counted.id()).body())
                .contains("the jars were swapped");
        assertThat(
                        visitor.post(
                                        "/api/cycles/" + scene.tied.cycleId() + "/detach",
                                        "{\"position\":1,\"why\":\"again\"}")
                                .statusCode())
                .isEqualTo(409);
    }

    @Test
    void removedWash_leavesTheLists_takesItsTicketBack_andCanReturn() {
        var ticket =
                scene.place
                        .tickets()
                        .issue(
                                scene.fresh.id(),
                                Pass.FIRST,
                                Scene.BENCH,
                                2,
                                "two-minutes",
                                1,
                                By.nobody());
        long listed = scene.place.washes().list(WashFilter.ALL, Page.first(9)).total();
        String wash = "/api/washes/" + scene.fresh.id();
        assertThat(
                        visitor.post(wash + "/remove", "{\"version\":1,\"why\":\"planned twice\"}")
                                .statusCode())
                .isEqualTo(200);
        assertThat(scene.place.washes().list(WashFilter.ALL, Page.first(9)).total())
                .isEqualTo(listed - 1);
        assertThat(scene.place.tickets().ticket(ticket.id()).standing())
                .isEqualTo(StoredTicket.Standing.WITHDRAWN);
        assertThat(scene.link.tickets.get(1).action()).isEqualTo(Ticket.Action.WITHDRAW);
        assertThat(visitor.get("/washes/" + scene.fresh.id()).body())
                .contains("Removed as a mistake", "Put this wash back");
        visitor.post(wash + "/put-back", "{\"version\":2,\"why\":\"it was right\"}");
        assertThat(scene.place.washes().list(WashFilter.ALL, Page.first(9)).total())
                .isEqualTo(listed);
    }

    private HttpResponse<String> photo(byte[] bytes) {
        String token = visitor.json("/api/session").get("csrf").asText();
        return visitor.send(
                visitor.request("/api/washes/" + scene.fresh.id() + "/photos")
                        .POST(HttpRequest.BodyPublishers.ofByteArray(bytes))
                        .header("Content-Type", "image/png")
                        .header("X-CSRF-Token", token));
    }

    @Test
    void photoOfAFewKilobytes_thatClaimsMorePixelsThanFitIntoMemory_isRefused() {
        for (byte[] file : List.of(BlackPng.of(12_000, 12_000), BlackPng.of(70_000, 1))) {
            assertThat(file.length).isLessThan(1 << 20);
            HttpResponse<String> answer = photo(file);
            assertThat(answer.statusCode()).isEqualTo(422);
            assertThat(answer.body()).contains("more than 50 megapixels", "fewer pixels");
        }
    }

    @Test
    void photo_isStoredShownAndTakenAway() {
        HttpResponse<String> answer = photo(PNG);
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
        String id = Visitor.read(answer).at("/result/id").asText();
        assertThat(visitor.get("/washes/" + scene.fresh.id()).body())
                .contains("src=\"/api/photos/" + id);
        var shown = visitor.get("/api/photos/" + id);
        assertThat(shown.headers().firstValue("Content-Type")).contains("image/png");
        assertThat(
                        visitor.post("/api/photos/" + id + "/remove", "{\"why\":\"a face\"}")
                                .statusCode())
                .isEqualTo(200);
        assertThat(visitor.get("/api/photos/" + id).statusCode()).isEqualTo(404);
    }

    @Test
    void whatIsNoPicture_orTooLarge_isRefusedInWords() {
        HttpResponse<String> script = photo("<svg onload='x'/>".getBytes(StandardCharsets.UTF_8));
        assertThat(script.statusCode()).isEqualTo(422);
        assertThat(script.body()).contains("neither a JPEG nor a PNG");
        HttpResponse<String> large = photo(new byte[4 * 1024 * 1024 + 1]);
        assertThat(large.statusCode()).isEqualTo(413);
        assertThat(large.body()).contains("at most 4 MiB");
    }

    /** A correction leaves the handed-out report as it was, marked as overtaken. */
    @Test
    void correctedCount_keepsTheEarlierValue_andMarksTheReportSuperseded() {
        String wash = scene.counted.id().toString();
        String report =
                Visitor.read(
                                visitor.post(
                                        "/api/reports",
                                        "{\"kind\":\"WASH\",\"subjectId\":\"" + wash + "\"}"))
                        .at("/result/id")
                        .asText();
        var count = scene.place.sheets().of(scene.counted.id()).passes().get(0).counts().get(0);
        visitor.post(
                "/api/counts/" + count.id() + "/correction",
                "{\"version\":1,\"mites\":7,\"why\":\"two were wings\"}");
        String why = visitor.json("/api/reports/" + report).at("/report/supersededWhy").asText();
        assertThat(why).isEqualTo("count corrected: two were wings");
        assertThat(visitor.get("/washes/" + wash).body()).contains("9 → 7", "two were wings");
    }
}
