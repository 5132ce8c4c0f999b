package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Path;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What the pages of a colony, an apiary and a treatment say, and the interface beneath them. */
class OverTimePagesTest {
    private static Scene scene;
    private static OverTimeScene time;
    private static Visitor visitor;

    @BeforeAll
    static void open(@TempDir Path folder) {
        scene = Scene.populated(folder);
        time = OverTimeScene.in(scene);
        visitor = new Visitor(scene);
    }

    @AfterAll
    static void close() {
        scene.close();
    }

    @Test
    void colony_showsChartGrowthAndWhatBrokeIt() {
        String page = visitor.get("/colonies/" + time.treated.id()).body();
        assertThat(page)
                .contains(
                        "/colonies/" + time.treated.id() + "/trend.svg",
                        "Something has broken the trend since the last wash",
                        "earlier stretches",
                        "Growth: ",
                        "What it did",
                        "marked blue");
        String other = visitor.get("/colonies/" + time.growing.id()).body();
        assertThat(other).contains(">made from</b>", ">Fir</a>");
    }

    @Test
    void nextWash_saysByWhichRule() {
        assertThat(visitor.get("/colonies/" + time.growing.id()).body())
                .contains(
                        "14 days after the last day of the treatment",
                        "common practice, no source");
    }

    @Test
    void chart_isAPictureOfItsOwn_forDeskAndPhone() {
        String path = "/colonies/" + time.growing.id() + "/trend.svg";
        var wide = visitor.get(path);
        assertThat(wide.headers().firstValue("Content-Type").orElseThrow())
                .startsWith("image/svg+xml");
        assertThat(wide.body()).contains("<svg", "viewBox=\"0 0 720 ", "<desc>");
        assertThat(visitor.get(path + "?narrow=true").body()).contains("viewBox=\"0 0 380 ");
        String birch = "/colonies/" + time.scene.birch.id();
        assertThat(visitor.get(birch + "/trend.svg").statusCode()).isEqualTo(200);
    }

    @Test
    void history_isThereForPrograms() {
        JsonNode history = visitor.json("/api/colonies/" + time.treated.id());
        assertThat(history.get("stretches")).hasSizeGreaterThan(1);
        assertThat(history.at("/stretches/0/growth/kind").asText()).isEqualTo("estimate");
        assertThat(history.get("goingOn").asBoolean()).isFalse();
        assertThat(history.at("/nextWash/rule").asText()).isNotEmpty();
    }

    @Test
    void apiary_showsSpreadMeanAndHowManyMayBeOver() {
        String page = visitor.get("/apiaries/" + scene.alder.apiaryId() + "?days=42").body();
        assertThat(page)
                .contains(
                        "Mean before any was treated",
                        "no sample of the colonies not washed",
                        "1 colony was treated and not washed since",
                        "Wash it again after the treatment",
                        "class=\"spread\"",
                        "not washed",
                        "may be over</b>".replace("</b>", ""),
                        "How many to wash",
                        "/days/new?apiaryId=" + scene.alder.apiaryId());
        JsonNode document = visitor.json("/api/apiaries/" + scene.alder.apiaryId() + "?days=42");
        assertThat(document.at("/mean/kind").asText()).isEqualTo("estimate");
        assertThat(document.at("/over/colonies").asInt())
                .as("one was treated and not washed since")
                .isEqualTo(document.get("colonies").size() - 1);
        assertThat(document.get("meanOf").asText()).isEqualTo("AS_DRAWN");
    }

    /** 3 in 300 by a fill line is 1.00 (0.20–3.01): a verdict left open is never called settled. */
    @Test
    void undecidedWash_saysWhatWouldSettleIt() {
        assertThat(visitor.get("/washes/" + time.estimated).body())
                .contains("0.20–3.01", "Undecided", "Count the bees of this wash")
                .doesNotContain("Settled", "more bees");
        assertThat(visitor.get("/washes/" + time.open).body())
                .contains("Undecided", "Wash about 350 more bees", "somewhat more than 650 bees");
    }

    @Test
    void apiarySettings_areChangedThroughTheInterface(@TempDir Path folder) {
        try (Scene other = Scene.populated(folder)) {
            Visitor keeper = new Visitor(other);
            String path = "/api/apiaries/" + other.alder.apiaryId();
            String body =
                    "{\"version\":1,\"name\":\"Hollow End\",\"timeZone\":\"Etc/GMT-10\","
                            + "\"hemisphere\":\"SOUTHERN\"}";
            assertThat(keeper.post(path, body).statusCode()).isEqualTo(200);
            assertThat(keeper.post(path, body).statusCode()).isEqualTo(409);
            String page = keeper.get("/apiaries/" + other.alder.apiaryId()).body();
            assertThat(page).contains("Hollow End", "Etc/GMT-10", "southern", "dormant");
            assertThat(keeper.post(path, body.replace("Etc/GMT-10", "Moon")).statusCode())
                    .isEqualTo(422);
        }
    }

    @Test
    void treatment_isHeldAgainstUntreatedColonies_asOneAndAsAGroup() {
        String page = visitor.get("/treatments/" + time.treatment).body();
        assertThat(page)
                .contains(
                        "Efficacy in Fir",
                        "3 untreated colonies",
                        "Efficacy over 2 colonies treated alike",
                        "Henderson and Tilton 1955",
                        "Hazel",
                        "Gorse");
        JsonNode efficacy = visitor.json("/api/colony-events/" + time.treatment + "/efficacy");
        assertThat(efficacy.at("/efficacy/kind").asText()).isEqualTo("estimate");
        assertThat(efficacy.at("/efficacy/value").asDouble()).isBetween(85.0, 99.0);
    }

    @Test
    void treatmentWithoutAWashAfterwards_saysWhatItNeeds() {
        String page = visitor.get("/treatments/" + time.unfinished).body();
        assertThat(page)
                .contains("not enough data", "within 56 days after", "New wash of this colony");
    }

    @Test
    void list_isFilteredAndSorted_alikeForPageAndProgram() {
        String page = visitor.get("/colonies?verdict=BELOW&sort=RESULT").body();
        assertThat(page).contains(">Fir</a>").doesNotContain(">Cherry</a>");
        JsonNode rows = visitor.json("/api/colonies?verdict=BELOW").get("rows");
        assertThat(rows).isNotEmpty();
        assertThat(rows)
                .allSatisfy(row -> assertThat(row.get("verdict").asText()).isEqualTo("below"));
        assertThat(visitor.get("/colonies?name=nothing+like+it").body())
                .contains("No colony is like that");
    }

    @Test
    void washes_arePagedFromWashToWash_thereAndBack() {
        String first = visitor.get("/washes").body();
        String next = link(first, "next");
        String second = visitor.get(next).body();
        assertThat(second).contains("rel=\"prev\"");
        String back = visitor.get(link(second, "prev")).body();
        assertThat(rows(back)).isEqualTo(rows(first));
        assertThat(rows(second)).isNotEqualTo(rows(first));
        assertThat(visitor.get("/washes?before=00000000-0000-0000-0000-000000000000").statusCode())
                .isEqualTo(404);
        assertThat(visitor.get("/washes?until=2031-03-01").body()).doesNotContain("20 May 2031");
    }

    private static String link(String page, String rel) {
        var found =
                java.util.regex.Pattern.compile("href=\"([^\"]*)\" rel=\"" + rel + "\"")
                        .matcher(page);
        assertThat(found.find()).as(rel).isTrue();
        return found.group(1).replace("&amp;", "&");
    }

    private static java.util.List<String> rows(String page) {
        return java.util.regex.Pattern.compile("href=\"/washes/[0-9a-f-]{36}\"")
                .matcher(page)
                .results()
                .map(java.util.regex.MatchResult::group)
                .toList();
    }

    @Test
    void standards_tellOfTheKeepersOwnFiles() {
        JsonNode offer = visitor.json("/api/standards");
        assertThat(offer.get("protocols")).hasSizeGreaterThan(1);
        assertThat(offer.get("mistakes")).isEmpty();
        assertThat(visitor.get("/standards/files/thresholds.yaml").body()).contains("thresholds:");
        assertThat(visitor.get("/standards/files/passwd").statusCode()).isEqualTo(404);
    }
}
