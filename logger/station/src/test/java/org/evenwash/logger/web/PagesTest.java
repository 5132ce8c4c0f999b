package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import java.util.regex.Pattern;
import org.evenwash.logger.wash.By;
import org.evenwash.record.BenchState;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Every page answers, on a full and on an empty database, and says what it has to. */
class PagesTest {
    private static Scene scene;
    private static Visitor visitor;

    @BeforeAll
    static void open(@TempDir Path folder) {
        scene = Scene.populated(folder);
        scene.planADay();
        scene.calibrate();
        visitor = new Visitor(scene);
    }

    @AfterAll
    static void close() {
        scene.close();
    }

    /** Addresses of all pages of a populated scene. */
    static List<String> pages(Scene scene) {
        return List.of(
                "/",
                "/washes",
                "/washes/" + scene.counted.id(),
                "/washes/" + scene.fresh.id(),
                "/washes/" + scene.counted.id() + "/recount",
                "/plan",
                "/days",
                "/days/new?apiaryId=" + scene.alder.apiaryId(),
                "/days/" + scene.day.id(),
                "/colonies",
                "/colonies/" + scene.alder.id(),
                "/apiaries/" + scene.alder.apiaryId(),
                "/cycles",
                "/cycles/" + scene.tied.cycleId(),
                "/spirit",
                "/spirit/" + scene.batch.id(),
                "/washes/" + scene.counted.id() + "/recount?pass=SECOND",
                "/calibrate",
                "/calibrate/agitation",
                "/calibrate/plan",
                "/calibrate/bees",
                "/calibrate/speed",
                "/calibrations/" + scene.line,
                "/consistency",
                "/consistency/counting",
                "/consistency/samples",
                "/consistency/cycles",
                "/operators",
                "/set-aside",
                "/standards",
                "/data",
                "/imports/" + scene.old.get(0),
                "/imports/" + scene.old.get(1),
                "/imports/" + scene.old.get(2),
                "/reports",
                "/reports?kind=WASH&subjectId=" + scene.counted.id(),
                "/labels",
                "/more",
                "/cautions");
    }

    @Test
    void everyPage_answersAndSaysThatItIsADemonstration() {
        for (String path : pages(scene)) {
            var answer = visitor.get(path);
            assertThat(answer.statusCode()).as(path + "\n" + answer.body()).isEqualTo(200);
            assertThat(answer.body()).as(path).contains("Demonstration: benches, bees");
            assertThat(answer.body()).as(path).contains("/cautions");
        }
    }

    @Test
    void emptyDatabase_everyListTeachesTheNextStep(@TempDir Path folder) {
        try (Scene empty = Scene.empty(folder)) {
            Visitor first = new Visitor(empty);
            for (String path :
                    List.of(
                            "/",
                            "/washes",
                            "/plan",
                            "/days",
                            "/colonies",
                            "/cycles",
                            "/spirit",
                            "/calibrate",
                            "/calibrate/agitation",
                            "/calibrate/bees",
                            "/calibrate/speed",
                            "/consistency",
                            "/consistency/counting",
                            "/consistency/samples",
                            "/consistency/cycles",
                            "/operators",
                            "/reports",
                            "/labels",
                            "/set-aside")) {
                var answer = first.get(path);
                assertThat(answer.statusCode()).as(path).isEqualTo(200);
                assertThat(answer.body()).as(path).contains("class=\"empty\"");
                assertThat(answer.body()).as(path).doesNotContain("Demonstration: benches");
            }
        }
    }

    /** Two mites in 300 bees read 0.67 per 100, common practice, no source; limits Garwood 1936. */
    @Test
    void listOfWashes_showsFiguresWithIntervals() {
        String page = visitor.get("/washes").body();
        assertThat(page).contains("2 in 300", "<b>0.67</b>", "0.08–2.41");
        assertThat(page).contains("0 in 300", "≤ 1.23");
    }

    @Test
    void oneWash_showsCountsRecountChecksWithSources() {
        String page = visitor.get("/washes/" + scene.counted.id()).body();
        assertThat(page).contains("9 mites", "10 mites", "blind recount", "Brook");
        assertThat(page).contains("Dietemann", "total agitation", "Not assessed: ");
    }

    @Test
    void recountPage_hidesTheFirstCount() {
        String page = visitor.get("/washes/" + scene.counted.id() + "/recount").body();
        assertThat(page).doesNotContain("9 mites").doesNotContain("2.88");
    }

    @Test
    void germanReader_readsDecimalCommas() {
        var request = visitor.request("/washes").GET().setHeader("Accept-Language", "de-DE");
        assertThat(visitor.send(request).body()).contains("<b>0,67</b>", "0,08–2,41");
    }

    @Test
    void noPage_offersAStart() {
        Pattern start = Pattern.compile("action=\"[^\"]*start|>\\s*Start\\s*<");
        for (String path : pages(scene)) {
            assertThat(start.matcher(visitor.get(path).body()).find()).as(path).isFalse();
        }
    }

    @Test
    void unknownAddress_saysSoAndLeadsOn() {
        var answer = visitor.get("/nowhere");
        assertThat(answer.statusCode()).isEqualTo(404);
        assertThat(answer.body()).contains("Nothing is kept at /nowhere", "To the bench");
    }

    @Test
    void unknownWash_is404InWords() {
        var answer = visitor.get("/washes/00000000-0000-0000-0000-000000000000");
        assertThat(answer.statusCode()).isEqualTo(404);
        assertThat(answer.body()).contains("is not here");
    }

    @Test
    void brokenIdAndPageNumber_are400NamingThePart() {
        assertThat(visitor.get("/washes/abc").statusCode()).isEqualTo(400);
        assertThat(visitor.get("/washes?before=x").statusCode()).isEqualTo(400);
        var answer = visitor.get("/washes?until=tomorrow");
        assertThat(answer.statusCode()).isEqualTo(400);
        assertThat(answer.body()).contains("Up to day needs a day such as");
        answer = visitor.get("/colonies?page=x");
        assertThat(answer.statusCode()).isEqualTo(400);
        assertThat(answer.body()).contains("page needs a whole number");
        answer = visitor.get("/colonies?sort=colour");
        assertThat(answer.statusCode()).isEqualTo(400);
        assertThat(answer.body()).contains("is not among [NAME, RESULT, WASHED]");
    }

    @Test
    void bench_showsTheRunningCycleAsAStrip_itsLastCycles_andTheNextTicket(@TempDir Path folder) {
        try (Scene running = Scene.populated(folder)) {
            running.planADay();
            running.board.put(
                    Cycles3.state(BenchState.State.RUNNING, running.fresh.id()), Scene.NOON);
            for (int second = 55; second <= 60; second++) {
                running.board.put(Cycles3.live(second), Scene.NOON);
            }
            String page = new Visitor(running).get("/").body();
            assertThat(page).contains("figure class=\"picture live\"", "Last cycles", "departs");
            assertThat(page).contains("Send the next ticket here", "2 are waiting");
            assertThat(page).doesNotContain("<progress");
        }
    }

    /** A card put back from an older copy: the bench gives out numbers again that it gave out before. */
    @Test
    void bench_saysWhichNumbersCameTwice_andWhatToDo(@TempDir Path folder) {
        try (Scene copied = Scene.populated(folder)) {
            assertThat(new Visitor(copied).get("/").body()).doesNotContain("Came twice");
            for (long sequence : new long[] {1, 2, 5}) {
                copied.again(Scene.BENCH, sequence);
            }
            assertThat(new Visitor(copied).get("/").body())
                    .contains(
                            "Came twice in its sequence, with different records: 1–2, 5.",
                            "Both records of each number are kept.",
                            "Its memory card was copied or put back from an older copy, or two",
                            "The last came on 20 May 2031, ",
                            "Give the copy a sequence of its own: when no record waits at it,",
                            "move outbox.db out of its data folder");
        }
    }

    @Test
    void twoBenchesFromOneCard_eachNamesTheOther(@TempDir Path folder) {
        try (Scene copied = Scene.populated(folder)) {
            copied.place.benches().admit("shed-2", "Second shed", true, By.nobody());
            copied.again("shed-2", 5);
            assertThat(new Visitor(copied).get("/").body())
                    .contains(
                            "Some came from Second shed: the two benches run from copies of one",
                            "Some came from shed-1: the two benches run from copies of one");
        }
    }
}
