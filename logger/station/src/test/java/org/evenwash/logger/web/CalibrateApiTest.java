package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.util.Locale;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.NewWash;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Calibration and consistency from outside: what is sent, what comes back, what a page then says. */
class CalibrateApiTest {
    @TempDir Path folder;
    private Scene scene;
    private Visitor visitor;

    @BeforeEach
    void open() {
        scene = Scene.populated(folder);
        scene.calibrate();
        visitor = new Visitor(scene);
    }

    @AfterEach
    void close() {
        scene.close();
    }

    private static JsonNode result(HttpResponse<String> answer) {
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
        return Visitor.read(answer).get("result");
    }

    /** 95 % of the scene's mites let go after 100 s; 24 washes find that to within their interval. */
    @Test
    void study_findsTheTimeThatTheWashesWereMadeWith_andSaysWhatIsLeftOut() {
        JsonNode study = visitor.json("/api/studies/agitation");

        assertThat(study.get("used").size()).isEqualTo(24);
        assertThat(study.at("/leftOut/0/why").asText()).contains("spilt");
        JsonNode time = study.at("/times/1/time_s");
        assertThat(study.at("/times/1/share").asDouble()).isEqualTo(0.95);
        assertThat(time.get("kind").asText()).isEqualTo("estimate");
        assertThat(time.get("lower").asDouble()).isLessThan(100);
        assertThat(time.get("upper").asDouble()).isGreaterThan(100);
        assertThat(visitor.get("/calibrate/agitation").body())
                .contains("24 washes count", "1 is left out", "Mites brought off against");
    }

    @Test
    void narrowedStudy_countsOnlyWhatIsChosen() {
        String who = scene.ada.id().toString();
        assertThat(visitor.json("/api/studies/agitation?operatorId=" + who).get("used").size())
                .isEqualTo(6);
        assertThat(
                        visitor.json("/api/studies/agitation?least_s=80&most_s=130")
                                .get("byTime")
                                .size())
                .isEqualTo(2);
        assertThat(visitor.json("/api/studies/agitation?recipe=by-hand").get("used").size())
                .isEqualTo(24);
        assertThat(visitor.json("/api/studies/agitation?recipe=two-minutes:1").get("used").size())
                .isZero();
        assertThat(visitor.get("/calibrate/agitation?from=yesterday").statusCode()).isEqualTo(422);
    }

    @Test
    void recipeMadeOverTheInterface_isOfferedForTickets() {
        var answer =
                visitor.post(
                        "/api/studies/recipe",
                        "{\"share\":0.9,\"aim\":\"ESTIMATE\",\"bouts\":2,\"rest_s\":20,"
                                + "\"baseRecipe\":\"two-minutes:1\",\"name\":\"Ninety\"}");

        JsonNode calibration = result(answer);
        assertThat(calibration.get("kind").asText()).isEqualTo("AGITATION_TIME");
        JsonNode recipes = visitor.json("/api/recipes");
        assertThat(recipes.findValuesAsText("name")).contains("Ninety");
        assertThat(visitor.get(Visitor.read(answer).get("page").asText()).body())
                .contains("Recipe made from it: Ninety", "agitation-time 2", "24 readings");
    }

    @Test
    void recipeThatCannotBe_isRefusedInWords() {
        var bouts =
                visitor.post(
                        "/api/studies/recipe",
                        "{\"share\":0.95,\"bouts\":90,\"baseRecipe\":\"two-minutes:1\"}");
        assertThat(bouts.statusCode()).isEqualTo(422);
        assertThat(bouts.body()).contains("expected 1 to 20");
        var none =
                visitor.post(
                        "/api/studies/recipe",
                        "{\"share\":0.95,\"bouts\":2,\"baseRecipe\":\"two-minutes:1\",\"most_s\":30}");
        assertThat(none.statusCode()).isEqualTo(409);
        assertThat(none.body()).contains("Agitation time is not known yet", "at least 12 washes");
    }

    @Test
    void leftOutWash_saysSoOnItsPage_andCountsAgain() {
        String id = visitor.json("/api/studies/agitation").at("/leftOut/0/wash/washId").asText();
        assertThat(visitor.get("/washes/" + id).body())
                .contains("Left out of calibration and consistency", "Let it count again");

        var answer = visitor.post("/api/washes/" + id + "/take-in", "{\"why\":\"other jar\"}");

        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
        assertThat(visitor.json("/api/studies/agitation").get("used").size()).isEqualTo(25);
        assertThat(visitor.post("/api/washes/" + id + "/leave-out", "{}").statusCode())
                .isEqualTo(422);
    }

    /**
     * Eight invented jars; their mean by R 4.2.2: mean(c(302,291,315,298,307,288,311,300)).
     */
    @Test
    void countedJars_estimateASampleEnteredByItsLine() {
        JsonNode made =
                result(
                        visitor.post(
                                "/api/bee-measures",
                                "{\"measure\":\"FILL_LINE\",\"name\":\"tall jar, BLUE line\","
                                        + "\"countedJars\":\"302\\n291\\n315;298;307;288;311;300\"}"));
        assertThat(made.get("kind").asText()).isEqualTo("FILL_LINE");
        Wash wash =
                scene.place
                        .washes()
                        .plan(NewWash.today(scene.birch.id(), scene.ada.id()), By.nobody());

        var answer =
                visitor.post(
                        "/api/washes/" + wash.id() + "/sample",
                        "{\"version\":1,\"sampledOn\":\"2031-05-20\",\"beeMeasure\":\"FILL_LINE\"}");

        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
        JsonNode sample = Visitor.read(answer).get("result");
        assertThat(sample.get("bees").asDouble()).isCloseTo(301.5, within(1e-9));
        JsonNode checks = visitor.json("/api/washes/" + wash.id()).get("checks");
        assertThat(checks)
                .anyMatch(
                        check ->
                                check.get("point")
                                                .asText()
                                                .equals("bee measure calibrated with local bees")
                                        && check.get("outcome").asText().equals("pass"));
        assertThat(visitor.get("/washes/" + wash.id()).body())
                .contains("Bees estimated by “tall jar, BLUE line”");
    }

    @Test
    void jarsThatCannotBeRead_areNamedByTheirLine() {
        var answer =
                visitor.post(
                        "/api/bee-measures",
                        "{\"measure\":\"MASS\",\"name\":\"Scale\","
                                + "\"countedJars\":\"36,5 302\\nforty 310\\n38.1 309 1\\n30 2.5\"}");
        assertThat(answer.statusCode()).isEqualTo(422);
        assertThat(answer.body())
                .contains("line 2 reads “forty 310”")
                .contains("line 3")
                .contains("2.5 is not a whole number of bees")
                .doesNotContain("line 1");
    }

    /** The scene's readings lie 8 to 14 % off: the 10 % that recipes allow are within. */
    @Test
    void displayThatMayBeOff_isSaidOnThePageOfTheBench_untilItIsRight() {
        assertThat(visitor.get("/").body()).contains("perhaps within the 10 % that recipes allow");

        JsonNode made =
                result(
                        visitor.post(
                                "/api/bench-speeds",
                                "{\"benchId\":\"shed-1\",\"readings\":\"180 179; 121 120; 60 59.8\"}"));

        assertThat(made.get("benchId").asText()).isEqualTo("shed-1");
        assertThat(visitor.get("/").body()).doesNotContain("within the 10 %");
        assertThat(visitor.get("/calibrate/speed").body()).contains("within the 10 %");
    }

    @Test
    void calibrationTakenOutOfUse_isListedAsSuch() {
        var answer = visitor.post("/api/calibrations/" + scene.line + "/end", "{}");
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
        assertThat(visitor.json("/api/calibrations/" + scene.line).has("usedUntil")).isTrue();
        assertThat(visitor.get("/calibrations/" + scene.line).body())
                .contains("Use it from now on");
        assertThat(visitor.post("/api/calibrations/" + scene.line + "/end", "{}").statusCode())
                .isEqualTo(409);
    }

    @Test
    void recipesForAStudy_areWrittenOnce_andOfferedForTickets() {
        String body = "{\"guess_s\":100,\"baseRecipe\":\"two-minutes:1\"}";
        JsonNode written = result(visitor.post("/api/studies/recipes", body));
        assertThat(written.size()).isEqualTo(6);
        assertThat(written.at("/0/sheet/bouts/0/agitation_s").asDouble()).isEqualTo(15);

        visitor.post("/api/studies/recipes", body);

        assertThat(visitor.json("/api/recipes").findValuesAsText("name"))
                .containsOnlyOnce("Study, 15 s");
        var impossible =
                visitor.post(
                        "/api/studies/recipes",
                        "{\"guess_s\":3000,\"baseRecipe\":\"two-minutes:1\"}");
        assertThat(impossible.statusCode()).isEqualTo(422);
        assertThat(impossible.body()).contains("cannot be run");
    }

    @Test
    void plan_asksForAtLeastTheFewestWashesForAVerdict() {
        JsonNode plan =
                visitor.json("/api/studies/plan?guess_s=100&mitesPerWash=20&wanted_percent=20");
        assertThat(plan.get("times_s").size()).isEqualTo(6);
        assertThat(plan.get("washesIfEven").asInt()).isGreaterThanOrEqualTo(12);
        assertThat(plan.get("washesIfUneven").asInt())
                .isGreaterThan(plan.get("washesIfEven").asInt());
        assertThat(visitor.get("/calibrate/plan?guess_s=x").statusCode()).isEqualTo(400);
    }

    @Test
    void consistency_answersEveryQuestion_withoutBlame() {
        for (String compare : new String[] {"OPERATORS", "BENCHES", "DAYS", "BATCHES"}) {
            JsonNode found = visitor.json("/api/consistency/recovery?compare=" + compare);
            assertThat(found.get("verdict").isTextual()).as(compare).isTrue();
            assertThat(visitor.get("/consistency?compare=" + compare).statusCode())
                    .as(compare)
                    .isEqualTo(200);
        }
        String page = visitor.get("/consistency").body();
        assertThat(page).contains("Ada", "Brook", "none is about a person");
        assertThat(page.toLowerCase(Locale.ROOT))
                .doesNotContain("worse", "careless", "bad operator", "fault of");
        JsonNode counting = visitor.json("/api/consistency/counting");
        assertThat(counting.at("/repeatability/kind").asText()).isEqualTo("estimate");
        assertThat(counting.get("catches").asInt()).isEqualTo(1);
        assertThat(visitor.json("/api/consistency/cycles").at("/causes/0/tag").asText())
                .isEqualTo("LID-OPEN");
        assertThat(visitor.json("/api/consistency/samples").get("samples").size())
                .as("three of the scene, two of its old files")
                .isEqualTo(5);
    }

    @Test
    void recountOfASecondWash_hidesItsFirstCount() {
        String id = visitor.json("/api/studies/agitation").at("/used/0/washId").asText();
        String page = visitor.get("/washes/" + id + "/recount?pass=SECOND").body();
        assertThat(page).contains("Second wash", "name=\"pass\" value=\"SECOND\"");
        var answer =
                visitor.post(
                        "/api/washes/" + id + "/counts",
                        "{\"pass\":\"SECOND\",\"mites\":1,\"recount\":true,\"blind\":true}");
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
        assertThat(visitor.get("/washes/" + id + "/recount?pass=THIRD").statusCode())
                .isEqualTo(422);
    }
}
