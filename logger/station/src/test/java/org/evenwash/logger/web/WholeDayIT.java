package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.UUID;
import org.assertj.core.api.SoftAssertions;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.evenwash.logger.store.DayPlan;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.WashFilter;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.openqa.selenium.By;
import org.openqa.selenium.support.ui.Select;

/**
 * A whole day in a real browser, from the plan to the paper, on a phone and on a desk. Both run over one
 * station, so each step compares with what was there before it. After every step the page is looked at:
 * nothing wider than the window, no complaint in the console, no serious finding of axe-core, a picture
 * in {@code target/screenshots}. A further page of the day is a further line in {@link #day}.
 */
class WholeDayIT {
    private static Workday work;

    private Browser browser;
    private SoftAssertions looks;

    /** What the steps hand on to each other. */
    private DayPlan plan;

    private UUID wash;

    /** One thing that a person does, and what its picture is called. */
    private record Step(String name, Work work) {}

    /** May fail as a bench's line or a file can. */
    private interface Work {
        void done() throws MqttException, IOException;
    }

    private List<Step> day() {
        return List.of(
                new Step("plan", this::plansTheDay),
                new Step("ticket", this::sendsTheTickets),
                new Step("cycle", this::benchShakesTwoJars),
                new Step("count", this::countsTheFirst),
                new Step("recount", this::someoneElseRecounts),
                new Step("second-wash", this::washesTheSameBeesAgain),
                new Step("result", this::readsTheResult),
                new Step("work-list", () -> visit("/days/" + plan.id(), "1.00")),
                new Step("washes", () -> visit("/washes", "1.00")),
                new Step("colonies", () -> visit("/colonies", "Hollow Lane")),
                new Step("report", this::handsOutAReport),
                new Step("correction", this::correctsTheCount_andTheReportSaysSo),
                new Step("day-report", this::handsOutTheDay),
                new Step("reports", () -> visit("/reports", "superseded")),
                new Step("labels", this::printsLabels),
                new Step("colony", () -> visit("/colonies/" + colony(), "Over time")),
                new Step("apiary", () -> visit("/apiaries/" + work.apiary.id(), "Hollow Lane")),
                new Step("calibrate", () -> visit("/calibrate", "Calibrat")),
                new Step("agitation", () -> visit("/calibrate/agitation", "")),
                new Step("consistency", () -> visit("/consistency", "")),
                new Step("counting", () -> visit("/consistency/counting", "")),
                new Step("import", this::bringsOldRecordsIn),
                new Step("export", this::takesEverythingOut));
    }

    @TempDir private Path old;

    @BeforeAll
    static void open(@TempDir Path folder) throws MqttException {
        work = new Workday(folder);
    }

    @AfterAll
    static void close() throws MqttException {
        work.close();
    }

    @ParameterizedTest
    @CsvSource({"390, 844", "1280, 800"})
    void wholeDay(int width, int height, @TempDir Path folder) throws MqttException, IOException {
        try (Browser open = new Browser(width, height, folder.resolve("profile"))) {
            browser = open;
            looks = new SoftAssertions();
            int number = 0;
            for (Step step : day()) {
                step.work().done();
                look("day-%02d-%s".formatted(++number, step.name()));
            }
            looks.assertAll();
        }
    }

    private void look(String name) {
        looks.assertThat(browser.overflow()).as(name + " is wider than the window").isZero();
        looks.assertThat(browser.seriousViolations()).as(name).isEmpty();
        looks.assertThat(browser.complaints()).as(name).isEmpty();
        browser.screenshot(name);
    }

    private void visit(String path, String words) {
        browser.driver.get(work.address(path));
        browser.waitFor(words);
    }

    private UUID colony() {
        return work.place.washes().wash(wash).colonyId();
    }

    private void plansTheDay() {
        long before = work.place.washes().list(WashFilter.ALL, Page.first(1)).total();
        visit("/days", "Days of work");
        browser.press("Choose the colonies");
        browser.waitFor("How many to wash");
        browser.type("day-howMany", "2");
        browser.type("day-seed", "7");
        browser.choose("day-operatorId", "Ada");
        browser.press("Make the work list");
        browser.waitFor("drawn with seed 7");
        plan = work.place.days().latest(1).get(0);
        assertThat(work.place.washes().list(WashFilter.ALL, Page.first(1)).total())
                .isEqualTo(before + 2);
    }

    private void sendsTheTickets() {
        int before = work.tickets();
        new Select(browser.found(By.id("next-recipe"))).selectByValue("two-minutes:1");
        browser.choose("next-spiritBatchId", "May mix");
        browser.type("next-jars", "2");
        browser.press("Send the next ticket");
        browser.waitFor("Nothing waits for a bench");
        browser.wait(driver -> work.tickets() == before + 2);
    }

    private void benchShakesTwoJars() throws MqttException {
        work.shake(work.tickets() - 2);
        wash = work.place.days().steps(plan.id()).get(0).washId();
        visit("/washes/" + wash, "The cycle was what its recipe asks.");
    }

    private void countsTheFirst() {
        browser.type("count-mites", "3");
        browser.type("count-bees", "300");
        browser.choose("count-countedBy", "Ada");
        browser.press("Save the count");
        browser.waitFor("3 mites");
    }

    private void someoneElseRecounts() {
        visit("/washes/" + wash + "/recount", "The first count stays hidden");
        assertThat(browser.driver.findElement(By.tagName("main")).getText())
                .doesNotContain("3 mites");
        browser.type("recount-mites", "3");
        browser.choose("recount-countedBy", "Brook");
        browser.press("Save the count");
        browser.waitFor("blind recount");
    }

    private void washesTheSameBeesAgain() {
        browser.unfold("Second wash of the same bees");
        browser.type("second-mites", "1");
        browser.choose("second-countedBy", "Brook");
        browser.press("Save the count");
        browser.waitFor("Second wash, Brook");
    }

    /** 3 mites in 300 bees read 1.00 per 100, common practice, no source; limits Garwood 1936. */
    private void readsTheResult() {
        visit("/washes/" + wash, "1.00");
        browser.waitFor("95 %: 0.20–2.93");
    }

    private void handsOutAReport() {
        long before = work.place.reports().list(Page.first(1)).total();
        visit("/washes/" + wash, "1.00");
        browser.follow("Make or find a report");
        browser.choose("report-by", "Ada");
        browser.press("Make the report");
        browser.waitFor("Both files are kept byte for byte");
        assertThat(work.place.reports().list(Page.first(1)).total()).isEqualTo(before + 1);
        assertThat(fetched("a[href$='/pdf']")).isEqualTo("application/pdf");
        assertThat(fetched("a[href$='/html']")).startsWith("text/html");
        look("day-report-page");
        browser.follow("As a page, to print or save");
        browser.waitFor("1.00");
    }

    /** Kind of the file behind a link of this page. */
    private String fetched(String link) {
        return (String)
                browser.driver.executeAsyncScript(
                        "const done = arguments[arguments.length - 1];"
                                + "fetch(document.querySelector(arguments[0]).href)"
                                + ".then(r => done(r.ok ? r.headers.get('content-type') : r.status))",
                        link);
    }

    private void correctsTheCount_andTheReportSaysSo() {
        visit("/washes/" + wash, "3 mites");
        browser.unfold("Correct this count");
        String form =
                "correct-" + work.place.sheets().of(wash).passes().get(0).counts().get(0).id();
        browser.type(form + "-mites", "4");
        browser.type(form + "-why", "one lay under the sieve");
        browser.press("Save the correction");
        browser.waitFor("4 mites");
        var latest = work.place.reports().list(Page.first(1)).rows().get(0);
        visit("/reports/" + latest.id(), "one lay under the sieve");
    }

    private void handsOutTheDay() {
        visit("/days/" + plan.id(), "Work list");
        browser.follow("Make or find a report");
        browser.press("Make the report");
        browser.waitFor("Both files are kept byte for byte");
        browser.waitFor("Day at Hollow Lane");
    }

    private void printsLabels() {
        visit("/labels?of=day-" + plan.id(), "Print labels");
        browser.choose("labels-layout", "63.5 × 38.1 mm, 21 on a sheet");
        browser.type("labels-address", "http://logger.local:8080");
        String type =
                (String)
                        browser.driver.executeAsyncScript(
                                "const done = arguments[arguments.length - 1];"
                                        + "const form = document.querySelector('form[method=post]');"
                                        + "fetch(form.action, {method: 'POST', body:"
                                        + " new URLSearchParams(new FormData(form))})"
                                        + ".then(r => done(r.ok ? r.headers.get('content-type')"
                                        + " : String(r.status)))");
        assertThat(type).isEqualTo("application/pdf");
    }

    private void bringsOldRecordsIn() throws IOException {
        long before = work.place.washes().list(WashFilter.ALL, Page.first(1)).total();
        // A colony of its own in each round: rows that are here already are not imported again.
        Path file =
                Files.writeString(
                        old.resolve("old-" + before + ".csv"),
                        "Date,Colony,Bees,Mites\n2024-05-03,Elder " + before + ",301,7\n");
        visit("/data", "Old records");
        browser.driver.findElement(By.id("import-file")).sendKeys(file.toString());
        browser.press("Look at the file");
        browser.waitFor("How to read it");
        browser.type("plan-apiary", "Hollow Lane");
        browser.press("Dry run");
        browser.waitFor("What would be imported");
        browser.found(By.name("makeNew")).click();
        browser.press("Import 1 wash");
        browser.waitFor("See the washes");
        assertThat(work.place.washes().list(WashFilter.ALL, Page.first(1)).total())
                .isEqualTo(before + 1);
    }

    private void takesEverythingOut() {
        visit("/data", "old-");
        assertThat(fetched("a[href='/api/export.zip']")).isEqualTo("application/zip");
        assertThat(fetched("a[href='/api/export.json']")).startsWith("application/json");
    }
}
