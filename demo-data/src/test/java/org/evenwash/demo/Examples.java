package org.evenwash.demo;

import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.CycleLine;
import org.evenwash.logger.store.Cycles;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.store.WashLine;
import org.evenwash.logger.transfer.Importing;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.DayPlanner;
import org.evenwash.logger.wash.Workplace;

/** Addresses to ask for, by the path in the route table; under {@code more} those with a query. */
final class Examples {
    private static final int MOST = 200;

    private final Database database;
    private final Workplace place;
    private final BrowserLike browser;

    Examples(Database database, Workplace place, BrowserLike browser) {
        this.database = database;
        this.place = place;
        this.browser = browser;
    }

    Map<String, List<String>> all() {
        Map<String, List<String>> all = new HashMap<>();
        List<String> washes = spread();
        all.put("/washes/{id}", washes);
        all.put("/washes/{id}/recount", washes.stream().map(path -> path + "/recount").toList());
        List<String> colonies = colonies();
        all.put("/colonies/{id}", colonies);
        all.put(
                "/colonies/{id}/trend.svg",
                colonies.stream().map(at -> at + "/trend.svg").toList());
        all.put("/treatments/{id}", treatments(colonies));
        all.put("/cycles/{id}", cycles());
        all.put("/spirit/{id}", spirits());
        all.put("/days/{id}", List.of("/days/" + day()));
        all.put("/apiaries/{id}", apiaries());
        Apiary apiary = place.yard().apiaries().get(3);
        all.put("/reports/{id}", reports(colonies.get(0)));
        all.put("/calibrations/{id}", List.of("/calibrations/" + calibration()));
        // A yard without rule files of its own: the page that would list them.
        all.put("/standards/files/{name}", List.of("/standards"));
        all.put("/days/new", List.of("/days/new?apiaryId=" + apiary.id()));
        String imported = importFile();
        all.put("/imports/{id}", List.of("/imports/" + imported));
        all.put("/imports/{id}/progress", List.of("/imports/" + imported + "/progress"));
        all.put(
                "more",
                List.of(
                        "/washes?page=1600",
                        "/washes?page=3300",
                        "/washes?apiaryId=" + apiary.id(),
                        "/washes?page=100&apiaryId=" + apiary.id(),
                        "/plan?apiaryId=" + apiary.id()));
        return all;
    }

    /** From the newest to the oldest. */
    private List<String> spread() {
        return Stream.iterate(1, page -> page + 500)
                .limit(MOST / 50)
                .flatMap(
                        page ->
                                place
                                        .washes()
                                        .list(WashFilter.ALL, new Page(page, 50))
                                        .rows()
                                        .stream())
                .map(WashLine::id)
                .map(id -> "/washes/" + id)
                .toList();
    }

    private List<String> colonies() {
        return place.yard().allColonies(Page.first(MOST)).rows().stream()
                .map(Colony::id)
                .map(id -> "/colonies/" + id)
                .toList();
    }

    private List<String> apiaries() {
        return place.yard().apiaries().stream().map(one -> "/apiaries/" + one.id()).toList();
    }

    private List<String> treatments(List<String> colonies) {
        return colonies.stream()
                .flatMap(colony -> linked(colony, "/treatments/[0-9a-f-]{36}").stream())
                .limit(20)
                .toList();
    }

    private List<String> linked(String page, String address) {
        return Pattern.compile(address)
                .matcher(browser.get(page))
                .results()
                .map(MatchResult::group)
                .distinct()
                .toList();
    }

    private List<String> reports(String colony) {
        WashLine wash = place.washes().list(WashFilter.ALL, Page.first(1)).rows().get(0);
        return List.of(
                report("WASH", wash.id().toString(), wash.sampledOn()),
                report("COLONY", colony.substring(colony.lastIndexOf('/') + 1), wash.sampledOn()),
                report("APIARY_DAY", wash.apiaryId().toString(), wash.sampledOn()));
    }

    private String report(String kind, String subjectId, LocalDate day) {
        String answer =
                browser.post(
                        "/api/reports",
                        "{\"kind\":\"%s\",\"subjectId\":\"%s\",\"onDay\":\"%s\"}"
                                .formatted(kind, subjectId, day));
        return "/reports/" + id(answer);
    }

    private String calibration() {
        place.benches().admit("archive-bench", "Bench of the archive", true, By.nobody());
        return id(
                browser.post(
                        "/api/bench-speeds",
                        "{\"benchId\":\"archive-bench\",\"readings\":\"180 177.9; 181 178.6; 120 118.4\"}"));
    }

    private static String id(String answer) {
        return answer.replaceAll("(?s).*?\"id\":\"([0-9a-f-]{36})\".*", "$1");
    }

    private List<String> cycles() {
        return database
                .read(handle -> Cycles.list(handle, "archive-bench", Page.first(MOST)))
                .rows()
                .stream()
                .map(CycleLine::id)
                .map(id -> "/cycles/" + id)
                .toList();
    }

    private List<String> spirits() {
        return place.spirit().batches().stream().map(one -> "/spirit/" + one.id()).toList();
    }

    private String day() {
        Apiary apiary = place.yard().apiaries().get(0);
        var day =
                new DayPlanner.NewDay(
                        apiary.id(), LocalDate.of(2031, 10, 1), List.of(), 10, 7, null);
        return place.days().plan(day, By.nobody()).id().toString();
    }

    private String importFile() {
        byte[] file =
                "Date,Apiary,Colony,Bees,Mites\n2031-09-01,Quill Moor,Q 01,300,3\n"
                        .getBytes(StandardCharsets.UTF_8);
        return new Importing(database, place.clock()).upload("old.csv", file).id().toString();
    }
}
