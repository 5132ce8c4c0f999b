package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.wash.By;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What happens to colonies, noted and taken back. */
class ColonyEventsTest {
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

    private HttpResponse<String> note(String fields) {
        return visitor.post(
                "/api/colonies/" + scene.alder.id() + "/events",
                "{\"onDay\":\"2031-05-20\"," + fields + "}");
    }

    private Colony alder() {
        return scene.place.yard().colony(scene.alder.id());
    }

    private HttpResponse<String> takeBackLast() {
        JsonNode events = visitor.json("/api/colonies/" + scene.alder.id() + "/events");
        String id = events.get(events.size() - 1).get("id").asText();
        return visitor.post("/api/colony-events/" + id + "/withdraw", "{\"why\":\"wrong hive\"}");
    }

    @Test
    void treatment_isNotedByActiveSubstance_shown_andTakenBack() {
        HttpResponse<String> answer =
                note(
                        "\"event\":\"TREATMENT\",\"substance\":\"oxalic acid\","
                                + "\"untilDay\":\"2031-05-27\"");
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
        String page = visitor.get("/colonies/" + scene.alder.id()).body();
        assertThat(page).contains(">treated</b> oxalic acid", "20 May 2031", "27 May 2031");
        assertThat(takeBackLast().statusCode()).isEqualTo(200);
        assertThat(visitor.get("/colonies/" + scene.alder.id()).body())
                .doesNotContain(">treated</b>");
    }

    @Test
    void renameAndMove_changeTheColony_andTakingBackUndoesThem() {
        String ridge =
                scene.place.yard().apiaries().stream()
                        .filter(one -> one.name().equals("South Ridge"))
                        .findFirst()
                        .orElseThrow()
                        .id()
                        .toString();
        note("\"event\":\"RENAME\",\"name\":\"Aspen\"");
        note("\"event\":\"MOVE\",\"toApiaryId\":\"" + ridge + "\"");
        assertThat(alder().name()).isEqualTo("Aspen");
        assertThat(alder().apiaryId().toString()).isEqualTo(ridge);
        assertThat(visitor.get("/colonies/" + scene.alder.id()).body())
                .contains("Hollow Lane → South Ridge");
        takeBackLast();
        takeBackLast();
        assertThat(alder().name()).isEqualTo("Alder");
        assertThat(alder().apiaryId()).isEqualTo(scene.alder.apiaryId());
    }

    @Test
    void renameWithALaterOneOnIt_isNotTakenBackFirst() {
        note("\"event\":\"RENAME\",\"name\":\"Aspen\"");
        String first =
                visitor.json("/api/colonies/" + scene.alder.id() + "/events")
                        .get(0)
                        .get("id")
                        .asText();
        note("\"event\":\"RENAME\",\"name\":\"Ash\"");
        HttpResponse<String> answer =
                visitor.post("/api/colony-events/" + first + "/withdraw", "{\"why\":\"x\"}");
        assertThat(answer.statusCode()).isEqualTo(409);
        assertThat(answer.body()).contains("later one built on it");
        assertThat(alder().name()).isEqualTo("Ash");
    }

    @Test
    void death_endsTheColony_andTakenBackItLives_unlessItsNameWasGivenAway() {
        note("\"event\":\"DEATH\"");
        assertThat(alder().endedOn()).isNotNull();
        scene.place.yard().addColony(scene.alder.apiaryId(), "Alder", By.nobody());
        assertThat(takeBackLast().statusCode()).isEqualTo(409);
        assertThat(alder().endedOn()).isNotNull();
    }

    @Test
    void merge_endsThisOne_andTakenBackItLives() {
        note("\"event\":\"MERGE\",\"otherColonyId\":\"" + scene.birch.id() + "\"");
        assertThat(alder().endedOn()).isNotNull();
        assertThat(takeBackLast().statusCode()).isEqualTo(200);
        assertThat(alder().endedOn()).isNull();
    }

    @ParameterizedTest
    @CsvSource({
        "RENAME, name",
        "MOVE, toApiaryId",
        "SPLIT, otherColonyId",
        "MERGE, otherColonyId",
        "TREATMENT, substance"
    })
    void whatAKindNeeds_isAskedFor(String kind, String field) {
        HttpResponse<String> answer = note("\"event\":\"" + kind + "\"");
        assertThat(answer.statusCode()).isEqualTo(422);
        assertThat(Visitor.read(answer).at("/fields/0/field").asText()).isEqualTo(field);
    }

    /** 9 mites in 312 bees: 2.88 per 100; limits Garwood 1936, 4.1154 and 17.0848 over 3.12. */
    @Test
    void list_showsTheLastCountedResultWithItsDots() {
        String page = visitor.get("/colonies").body();
        assertThat(page).contains("<b>2.88</b>", "1.31–5.48", "Last results of Alder");
        assertThat(page).contains("not washed yet");
    }
}
