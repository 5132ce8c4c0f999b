package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Calibration;
import org.evenwash.logger.store.CalibrationKind;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.store.Json;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.NewWash;
import org.evenwash.record.Pass;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Reports, from the request to the bytes, and what becomes of them. */
class ReportApiTest {
    private Scene scene;
    private Visitor visitor;
    private ReportReader reports;

    @BeforeEach
    void open(@TempDir Path folder) {
        scene = Scene.populated(folder);
        visitor = new Visitor(scene);
        reports = new ReportReader(visitor);
    }

    @AfterEach
    void close() {
        scene.close();
    }

    private String day() {
        return ",\"onDay\":\"2031-05-18\"";
    }

    private JsonNode state(JsonNode report) {
        return visitor.json("/api/reports/" + report.get("id").asText()).get("report");
    }

    private void correctTheCount() {
        var count = scene.place.sheets().of(scene.counted.id()).passes().get(0).counts().get(0);
        HttpResponse<String> answer =
                visitor.post(
                        "/api/counts/" + count.id() + "/correction",
                        "{\"version\":1,\"mites\":7,\"why\":\"two were wings\",\"by\":\""
                                + scene.brook.id()
                                + "\"}");
        assertThat(answer.statusCode()).isEqualTo(200);
    }

    /** 9 mites in 312 bees read 2.88 per 100, common practice, no source; limits Garwood 1936. */
    @Test
    void wash_pdfPageAndJson_sayTheSameFigures() {
        JsonNode report = reports.make("WASH", scene.counted.id(), "");
        String page = visitor.get("/washes/" + scene.counted.id()).body();
        JsonNode wash = visitor.json("/api/washes/" + scene.counted.id());
        String pdf = reports.pdfText(report);
        assertThat(page).contains("<b>2.88</b>", "95 %: 1.31–5.48");
        assertThat(wash.at("/infestation/text").asText())
                .isEqualTo("2.88 mites per 100 bees (95 %: 1.31–5.48)");
        assertThat(pdf).contains("2.88 mites per 100 bees", "95 %: 1.31–5.48");
        JsonNode kept = visitor.json("/api/reports/" + report.get("id").asText());
        assertThat(kept.at("/result/results/infestation/value").asDouble())
                .isEqualTo(wash.at("/infestation/per100Bees").asDouble());
        assertThat(kept.at("/inputs/wash/bees").asDouble()).isEqualTo(312);
    }

    private UUID washed(Colony colony, int mites, double bees) {
        Wash wash =
                scene.place
                        .washes()
                        .plan(
                                new NewWash(
                                        colony.id(),
                                        LocalDate.of(2031, 5, 18),
                                        null,
                                        null,
                                        null,
                                        "",
                                        false),
                                By.nobody());
        scene.place
                .washes()
                .enterBees(wash.id(), 1, BeeMeasure.COUNTED, bees, null, null, null, By.nobody());
        scene.place.counting().enter(wash.id(), Pass.FIRST, mites, null, By.nobody());
        return wash.id();
    }

    /** 4 in 300 and 5 in 350 of one day: 9 in 650, 1.38 (0.63–2.63), below 3, on page, paper and API. */
    @Test
    void washesOfOneDay_areJudgedTogetherEverywhere() {
        scene.place.standards().chooseThreshold("university-of-florida", null, By.nobody());
        Colony colony = scene.place.yard().addColony(scene.birch.apiaryId(), "Linden", By.nobody());
        UUID first = washed(colony, 4, 300);
        assertThat(visitor.get("/washes/" + first).body())
                .contains("Wash about 350 more bees", "same day", "somewhat more than 650 bees")
                .doesNotContain("Settled");
        UUID second = washed(colony, 5, 350);
        String figure = "1.38 mites per 100 bees (95 %: 0.63–2.63)";

        String page = visitor.get("/washes/" + first).body();
        assertThat(page)
                .contains(
                        "With the other wash of that day that was agitated alike: 9 in 650, "
                                + figure,
                        "/washes/" + second,
                        "Undecided",
                        "Below 3 mites per 100 bees")
                .doesNotContain("What would settle it");
        assertThat(visitor.get("/colonies/" + colony.id()).body())
                .contains(
                        "<b>1.38</b>",
                        "2 washes of that day, agitated alike, together: 9 in 650",
                        "Below 3 mites");
        assertThat(visitor.get("/apiaries/" + colony.apiaryId()).body())
                .contains("<b>1.38</b>", "(2 washes)");
        assertThat(visitor.get("/colonies?name=" + colony.name()).body())
                .contains("<b>1.38</b>", "below");

        JsonNode together = visitor.json("/api/washes/" + first).get("together");
        assertThat(together.get("mites").asInt()).isEqualTo(9);
        assertThat(together.get("verdict").asText()).isEqualTo("below");
        assertThat(together.get("washes")).hasSize(2);
        assertThat(visitor.json("/api/colonies/" + colony.id()).at("/last/verdict").asText())
                .isEqualTo("below");
        assertThat(
                        visitor.json("/api/apiaries/" + colony.apiaryId())
                                .findValues("judged")
                                .toString())
                .contains(figure);

        assertThat(reports.pdfText(reports.make("WASH", first, "")))
                .contains("With the other wash of that day", "9 in 650");
        assertThat(reports.pdfText(reports.make("COLONY", colony.id(), "")))
                .contains("2 washes of that day, agitated alike, together");
        JsonNode day = reports.make("APIARY_DAY", colony.apiaryId(), day());
        assertThat(String.join(" ", reports.words(day)))
                .contains(
                        colony.name()
                                + ": 2 washes of that day, agitated alike, together: 9 in 650. "
                                + figure);
    }

    /** Both files are printed from one document; this would notice a block that one of them forgot. */
    @Test
    void everyWordOfEveryKind_standsInPdfAndHtml() {
        scene.place
                .standards()
                .chooseThreshold(
                        scene.place.standards().thresholds().values().stream()
                                .filter(one -> one.per100Bees().isPresent())
                                .findFirst()
                                .orElseThrow()
                                .id(),
                        null,
                        By.nobody());
        for (JsonNode report :
                List.of(
                        reports.make("WASH", scene.counted.id(), ""),
                        reports.make("COLONY", scene.birch.id(), ""),
                        reports.make("APIARY_DAY", scene.alder.apiaryId(), day()))) {
            String pdf = ReportReader.squeezed(reports.pdfText(report));
            String html = ReportReader.squeezed(reports.htmlText(report));
            List<String> words = reports.words(report);
            assertThat(words).hasSizeGreaterThan(20);
            for (String said : words) {
                assertThat(pdf).contains(ReportReader.squeezed(said));
                assertThat(html).contains(ReportReader.squeezed(said));
            }
        }
    }

    @Test
    void correction_marksTheReport_andLeavesItsBytes() {
        JsonNode report = reports.make("WASH", scene.counted.id(), "");
        byte[] pdf = reports.file(report, "pdf");
        byte[] html = reports.file(report, "html");
        assertThat(state(report).get("supersededAt").isNull()).isTrue();
        correctTheCount();
        JsonNode now = state(report);
        assertThat(now.get("supersededWhy").asText()).isEqualTo("count corrected: two were wings");
        assertThat(now.get("supersededBy").asText()).isEqualTo(scene.brook.id().toString());
        assertThat(now.get("supersededAt").asText()).isEqualTo(Scene.NOON.toString());
        assertThat(reports.file(report, "pdf")).isEqualTo(pdf);
        assertThat(reports.file(report, "html")).isEqualTo(html);
        String page = visitor.get("/reports/" + report.get("id").asText()).body();
        assertThat(page).contains("superseded", "Brook", "count corrected: two were wings");
        JsonNode next = reports.make("WASH", scene.counted.id(), "");
        assertThat(next.get("number").asLong()).isEqualTo(report.get("number").asLong() + 1);
        // 7 in 312, as above.
        assertThat(reports.pdfText(next)).contains("2.24 mites per 100 bees", "9 → 7");
        assertThat(state(next).get("supersededAt").isNull()).isTrue();
    }

    @Test
    void markedCopy_saysSoOnEveryPage_andTheOriginalDoesNot() {
        JsonNode report = reports.make("WASH", scene.counted.id(), "");
        int pages = ReportReader.pages(reports.file(report, "pdf"));
        assertThat(reports.file(report, "pdf?marked=true")).isEqualTo(reports.file(report, "pdf"));
        correctTheCount();
        String marked = ReportReader.text(reports.file(report, "pdf?marked=true"));
        assertThat(marked.split("Superseded 20 May 2031", -1)).hasSize(pages + 1);
        assertThat(reports.pdfText(report)).doesNotContain("Superseded");
    }

    /** Whatever a report rests on marks it: counts, recounts, cycles, spirit, events, further washes. */
    @Test
    void everyKindOfChange_marksWhatRestsOnIt_andNothingElse() {
        UUID first = scene.counted.id();
        JsonNode other = reports.make("COLONY", scene.birch.id(), "");
        marked(
                "WASH",
                first,
                "",
                () ->
                        scene.place
                                .counting()
                                .recount(first, Pass.FIRST, 9, scene.ada.id(), true, By.nobody()),
                "a recount");
        marked(
                "WASH",
                first,
                "",
                () ->
                        scene.place
                                .counting()
                                .enter(first, Pass.SECOND, 1, scene.ada.id(), By.nobody()),
                "second wash");
        marked(
                "WASH",
                first,
                "",
                () ->
                        scene.place
                                .cycles()
                                .detach(scene.tied.cycleId(), 1, "wrong jar", By.nobody()),
                "wrong jar");
        marked(
                "COLONY",
                scene.alder.id(),
                "",
                () ->
                        scene.place
                                .yard()
                                .requeen(
                                        scene.alder.id(),
                                        LocalDate.of(2031, 5, 19),
                                        "",
                                        By.nobody()),
                "requeen");
        marked(
                "COLONY",
                scene.alder.id(),
                "",
                () ->
                        scene.place
                                .counting()
                                .enter(scene.fresh.id(), Pass.FIRST, 2, null, By.nobody()),
                "a count");
        marked("APIARY_DAY", scene.alder.apiaryId(), day(), this::correctTheCount, "wings");
        UUID event = scene.place.yard().events(scene.alder.id()).get(0).id();
        marked(
                "COLONY",
                scene.alder.id(),
                "",
                () -> scene.place.yard().withdraw(event, "another colony", By.nobody()),
                "taken back");
        assertThat(state(other).get("supersededAt").isNull()).isTrue();
    }

    private void marked(String kind, UUID subject, String more, Runnable change, String why) {
        JsonNode report = reports.make(kind, subject, more);
        assertThat(state(report).get("supersededAt").isNull()).isTrue();
        change.run();
        assertThat(state(report).get("supersededWhy").asText()).as(kind).contains(why);
    }

    @Test
    void day_saysWhatTheWashedColoniesSayOfAll() {
        JsonNode report = reports.make("APIARY_DAY", scene.alder.apiaryId(), day());
        assertThat(reports.pdfText(report)).contains("Day at Hollow Lane", "1 of 3", "9 in 312");
        HttpResponse<String> empty =
                visitor.post(
                        "/api/reports",
                        "{\"kind\":\"APIARY_DAY\",\"subjectId\":\""
                                + scene.alder.apiaryId()
                                + "\",\"onDay\":\"2031-01-01\"}");
        assertThat(empty.statusCode()).isEqualTo(422);
        assertThat(empty.body()).contains("no wash in Hollow Lane");
        HttpResponse<String> missing =
                visitor.post(
                        "/api/reports",
                        "{\"kind\":\"APIARY_DAY\",\"subjectId\":\""
                                + scene.alder.apiaryId()
                                + "\"}");
        assertThat(missing.statusCode()).isEqualTo(422);
        assertThat(missing.body()).contains("Day is missing");
    }

    /** 20 s with 2 in 300 and 120 s with 9 in 300: judged by the latter, 3.00, on page and paper. */
    @Test
    void day_takesOfEachColonyWhatItIsJudgedBy_evenIfNamesRepeat() {
        Apiary apiary =
                scene.place
                        .yard()
                        .addApiary("Gorse Down", "Etc/UTC", Hemisphere.NORTHERN, By.nobody());
        Colony colony = scene.place.yard().addColony(apiary.id(), "Linden", By.nobody());
        UUID brief = washed(colony, 2, 300);
        UUID whole = washed(colony, 9, 300);
        scene.place.washes().enterPass(brief, Pass.FIRST, null, 20.0, By.nobody());
        scene.place.washes().enterPass(whole, Pass.FIRST, null, 120.0, By.nobody());
        assertThat(mean(apiary)).isEqualTo(3);

        scene.place.yard().died(colony.id(), LocalDate.of(2031, 5, 18), "", By.nobody());
        Colony namesake = scene.place.yard().addColony(apiary.id(), "Linden", By.nobody());
        scene.place.yard().addColony(apiary.id(), "Rowan", By.nobody());
        washed(namesake, 15, 300);
        assertThat(mean(apiary)).isEqualTo(4);
    }

    private double mean(Apiary apiary) {
        JsonNode report = reports.make("APIARY_DAY", apiary.id(), day());
        JsonNode kept = visitor.json("/api/reports/" + report.get("id").asText());
        return kept.at("/result/results/mean/value").asDouble();
    }

    @Test
    void sameKey_makesOneReport() {
        String body =
                "{\"kind\":\"WASH\",\"subjectId\":\""
                        + scene.counted.id()
                        + "\",\"idempotencyKey\":\"once\"}";
        JsonNode first = Visitor.read(visitor.post("/api/reports", body)).get("result");
        JsonNode again = Visitor.read(visitor.post("/api/reports", body)).get("result");
        assertThat(again.get("id")).isEqualTo(first.get("id"));
        assertThat(visitor.json("/api/reports").get("total").asInt()).isEqualTo(1);
    }

    @Test
    void unknownSubject_is404_andUnknownKindNamesTheChoices() {
        String nowhere = "00000000-0000-0000-0000-000000000000";
        assertThat(
                        visitor.post(
                                        "/api/reports",
                                        "{\"kind\":\"WASH\",\"subjectId\":\"" + nowhere + "\"}")
                                .statusCode())
                .isEqualTo(404);
        HttpResponse<String> kind =
                visitor.post(
                        "/api/reports",
                        "{\"kind\":\"YEAR\",\"subjectId\":\"" + scene.counted.id() + "\"}");
        assertThat(kind.statusCode()).isEqualTo(422);
        assertThat(kind.body()).contains("apiary_day");
    }

    @Test
    void html_carriesAPolicyThatLetsInItsOwnStyleOnly() {
        JsonNode report = reports.make("WASH", scene.counted.id(), "");
        HttpResponse<String> html =
                visitor.get("/api/reports/" + report.get("id").asText() + "/html");
        assertThat(html.headers().firstValue("Content-Security-Policy").orElseThrow())
                .contains("default-src 'none'", "style-src 'sha256-")
                .doesNotContain("unsafe");
        assertThat(new String(reports.file(report, "html"), StandardCharsets.UTF_8))
                .contains("<svg", "role=\"img\"", "lang=\"en\"");
    }

    /** The words beneath the chart are those of the colony's page. */
    @Test
    void colony_hasItsTrendAsAChart_andInThePagesWords() throws IOException {
        new CalibrationScene(scene).set();
        for (int week = 0; week < 6; week++) {
            Wash wash =
                    scene.place
                            .washes()
                            .plan(
                                    new NewWash(
                                            scene.alder.id(),
                                            LocalDate.of(2031, 3, 3).plusWeeks(week),
                                            null,
                                            null,
                                            null,
                                            "",
                                            false),
                                    By.nobody());
            scene.place
                    .washes()
                    .enterBees(wash.id(), 1, BeeMeasure.COUNTED, 300, null, null, "", By.nobody());
            scene.place.counting().enter(wash.id(), Pass.FIRST, 3 + week, null, By.nobody());
        }
        JsonNode report = reports.make("COLONY", scene.alder.id(), "");
        byte[] pdf = reports.file(report, "pdf");
        ReportReader.keep("colony-trend.pdf", pdf);
        assertThat(ReportReader.text(pdf)).contains("Over time", "Growth: ");
        String page = visitor.get("/colonies/" + scene.alder.id()).body();
        for (String words : reports.words(report)) {
            if (words.contains("Growth: ")) {
                assertThat(page)
                        .contains(words.substring(words.indexOf("Growth: ")).split("\\. ")[0]);
            }
        }
        try (PDDocument document = Loader.loadPDF(pdf)) {
            assertThat(document.getPage(0).getResources().getXObjectNames())
                    .as("the chart, as lines")
                    .isNotEmpty();
        }
    }

    @Test
    void calibration_hasItsReadingsAndItsChart_andIsMarkedWithItsWashes() {
        new CalibrationScene(scene).set();
        for (Calibration one : scene.place.calibrating().shelf().all()) {
            JsonNode report = reports.make("CALIBRATION", one.id(), "");
            String text = ReportReader.squeezed(reports.pdfText(report));
            ReportReader.keep("calibration-" + one.kind() + ".pdf", reports.file(report, "pdf"));
            for (String said : reports.words(report)) {
                assertThat(text).contains(ReportReader.squeezed(said));
            }
            if (one.kind() == CalibrationKind.AGITATION_TIME) {
                UUID wash =
                        UUID.fromString(
                                Json.read(one.inputsJson(), JsonNode.class)
                                        .at("/washes/0")
                                        .asText());
                var count = scene.place.sheets().of(wash).passes().get(0).counts().get(0);
                scene.place.counting().correct(count.id(), 1, 1, "seen twice", By.nobody());
                assertThat(state(report).get("supersededWhy").asText()).contains("seen twice");
            }
        }
        assertThat(scene.place.reports().list(Page.first(10)).total()).isGreaterThanOrEqualTo(3);
    }
}
