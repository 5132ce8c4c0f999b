package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.groups.Tuple.tuple;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.wash.By;
import org.evenwash.record.Pass;
import org.evenwash.record.Ticket;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A day planned, its tickets in order, and what it allows to say. */
class DayApiTest {
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

    private HttpResponse<String> plan(String fields) {
        return visitor.post(
                "/api/days", "{\"apiaryId\":\"" + scene.alder.apiaryId() + "\"" + fields + "}");
    }

    private static List<String> colonies(JsonNode result) {
        List<String> names = new ArrayList<>();
        result.get("washes").forEach(step -> names.add(step.get("colony").asText()));
        return names;
    }

    @Test
    void sameSeed_drawsTheSameColonies_inOrderOfTheirNames() {
        JsonNode first = Visitor.read(plan(",\"howMany\":2,\"seed\":41")).get("result");
        JsonNode again = Visitor.read(plan(",\"howMany\":2,\"seed\":41")).get("result");
        assertThat(colonies(first)).hasSize(2).isSorted().isEqualTo(colonies(again));
        assertThat(first.at("/day/seed").asLong()).isEqualTo(41);
    }

    /**
     * Twenty colonies, nine washed, none over. Cannon and Roe 1982, by hand: four over escape a draw of
     * nine with (11·10·9·8)/(20·19·18·17) = 6.8 %, five with (11·10·9·8·7)/(20·19·18·17·16) = 3.0 %;
     * so at most four are over, with 95 %.
     */
    @Test
    void drawnDay_saysWhatItsNumberAllows() {
        for (int i = 0; i < 17; i++) {
            scene.place.yard().addColony(scene.alder.apiaryId(), "Row " + i, By.nobody());
        }
        String page = Visitor.read(plan(",\"howMany\":9,\"seed\":1")).get("page").asText();
        assertThat(visitor.get(page).body())
                .contains(
                        "If none of the 9 is over the threshold: at most 4 of all 20 are",
                        "drawn with seed 1");
        assertThat(visitor.get("/days/new?apiaryId=" + scene.alder.apiaryId()).body())
                .contains("at most 4 of 20 are over");
    }

    @Test
    void chosenColonies_areTaken_andNothingIsClaimedFromThem() {
        HttpResponse<String> answer = plan(",\"colonies\":[\"" + scene.birch.id() + "\"]");
        assertThat(colonies(Visitor.read(answer).get("result"))).containsExactly("Birch");
        String page = visitor.get(Visitor.read(answer).get("page").asText()).body();
        assertThat(page).contains("colonies chosen", "Each result speaks for its own colony");
    }

    @Test
    void moreThanThereAre_orStrangers_areRefused() {
        HttpResponse<String> many = plan(",\"howMany\":4");
        assertThat(many.statusCode()).isEqualTo(422);
        assertThat(many.body()).contains("3 stand in this apiary");
        HttpResponse<String> stranger =
                plan(",\"colonies\":[\"00000000-0000-0000-0000-000000000001\"]");
        assertThat(stranger.statusCode()).isEqualTo(422);
        assertThat(plan("").statusCode()).isEqualTo(422);
    }

    @Test
    void twoJars_takeTheNextTwoTickets_thenNoPositionIsFree() {
        String id = Visitor.read(plan(",\"howMany\":3,\"seed\":5")).at("/result/day/id").asText();
        String next =
                "{\"benchId\":\"shed-1\",\"recipe\":\"two-minutes:1\",\"jars\":2,"
                        + "\"spiritBatchId\":\""
                        + scene.batch.id()
                        + "\"}";
        HttpResponse<String> sent = visitor.post("/api/days/" + id + "/next", next);
        assertThat(sent.statusCode()).as(sent.body()).isEqualTo(201);
        assertThat(scene.link.tickets)
                .extracting(Ticket::colony, Ticket::position, Ticket::pass)
                .containsExactly(tuple("Alder", 1, Pass.FIRST), tuple("Birch", 2, Pass.FIRST));
        assertThat(scene.link.tickets.get(0).spirit().flashPoint_C())
                .as("the lower of what was entered and what is computed, from below")
                .isCloseTo(21.3, within(1e-6));
        HttpResponse<String> full = visitor.post("/api/days/" + id + "/next", next);
        assertThat(full.statusCode()).isEqualTo(409);
        assertThat(full.body()).contains("open ticket at each jar position");
        String page = visitor.get("/days/" + id).body();
        assertThat(page).contains("<b>Cherry</b>", "the last one waiting", "shed-1, jar 2");
    }

    @Test
    void sentTwiceWithOneKey_isSentOnce() {
        String id = Visitor.read(plan(",\"howMany\":3,\"seed\":5")).at("/result/day/id").asText();
        String next =
                "{\"benchId\":\"shed-1\",\"recipe\":\"two-minutes:1\",\"jars\":2,"
                        + "\"idempotencyKey\":\"k\"}";
        visitor.post("/api/days/" + id + "/next", next);
        visitor.post("/api/days/" + id + "/next", next);
        assertThat(scene.place.tickets().open("shed-1")).hasSize(2);
    }

    @Test
    void finishedCycle_showsOnTheWorkList_andThenTheResult() {
        String id = Visitor.read(plan(",\"howMany\":3,\"seed\":5")).at("/result/day/id").asText();
        var first = scene.place.days().steps(UUID.fromString(id)).get(0);
        scene.place
                .cycles()
                .attach(scene.loose.cycleId(), 1, first.washId(), Pass.FIRST, By.nobody());
        assertThat(visitor.get("/days/" + id).body()).contains("shaken, to be counted");
        visitor.post("/api/washes/" + first.washId() + "/counts", "{\"mites\":2,\"bees\":300}");
        assertThat(visitor.get("/days/" + id).body()).contains("<b>0.67</b>", "0.08–2.41");
    }
}
