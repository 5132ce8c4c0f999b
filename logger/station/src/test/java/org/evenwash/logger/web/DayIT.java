package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Map;
import javax.imageio.ImageIO;
import org.evenwash.logger.store.Handling;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.BenchState;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.support.ui.ExpectedConditions;
import org.openqa.selenium.support.ui.Select;

/** What a person does with the pages on a phone, in a real browser. */
class DayIT {
    private Scene scene;
    private Browser browser;

    @BeforeEach
    void open(@TempDir Path folder) {
        scene = Scene.populated(folder);
        browser = new Browser(390, 844, folder.resolve("profile"));
    }

    @AfterEach
    void close() {
        browser.close();
        scene.close();
    }

    private WebElement id(String id) {
        return browser.found(By.id(id));
    }

    private void offline(boolean offline) {
        browser.driver.executeCdpCommand("Network.enable", Map.of());
        browser.driver.executeCdpCommand(
                "Network.emulateNetworkConditions",
                Map.of(
                        "offline",
                        offline,
                        "latency",
                        0,
                        "downloadThroughput",
                        -1,
                        "uploadThroughput",
                        -1));
    }

    @Test
    void plan_ticket_count_result() {
        browser.driver.get(scene.address("/plan"));
        browser.choose("plan-colonyId", "Cherry, Hollow Lane");
        browser.choose("plan-operatorId", "Ada");
        browser.choose("plan-benchId", "shed-1");
        browser.press("Make the wash");
        browser.waitFor("sent, not answered yet");
        assertThat(scene.link.tickets).hasSize(1);
        id("count-mites").sendKeys("2");
        id("count-bees").sendKeys("300");
        browser.choose("count-countedBy", "Ada");
        browser.press("Save the count");
        browser.waitFor("0.67");
        browser.waitFor("95 %: 0.08");
        browser.screenshot("day-result");
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void wrongEntry_isMarkedAtItsField_andStaysTyped() {
        browser.driver.get(scene.address("/washes/" + scene.fresh.id()));
        id("count-mites").sendKeys("2x");
        browser.press("Save the count");
        browser.waitFor("Mites needs a whole number");
        assertThat(id("count-mites").getDomProperty("value")).isEqualTo("2x");
        assertThat(id("count-mites").getDomAttribute("aria-invalid")).isEqualTo("true");
        browser.screenshot("day-mistake");
        assertThat(browser.seriousViolations()).isEmpty();
    }

    @Test
    void foldedPartOfTheCount_isSentWithIt_andOpensWhereSomethingIsWrong() {
        browser.driver.get(scene.address("/washes/" + scene.fresh.id()));
        id("count-mites").sendKeys("2");
        browser.unfold("Frames, liquid, jar and sieves");
        browser.choose("count-beesCovered", "yes");
        browser.choose("count-jarWallsChecked", "no");
        browser.type("count-beeSieve_mm", "32");
        browser.screenshot("day-handling");
        assertThat(browser.seriousViolations()).isEmpty();
        assertThat(browser.overflow()).isZero();
        browser.unfold("Frames, liquid, jar and sieves");
        browser.press("Save the count");
        browser.waitFor("Mesh of the bee sieve, mm reads 32");
        assertThat(id("count-beeSieve_mm").isDisplayed()).isTrue();
        assertThat(id("count-beeSieve_mm").getDomAttribute("aria-invalid")).isEqualTo("true");
        browser.type("count-beeSieve_mm", "3.2");
        browser.press("Save the count");
        browser.waitFor("2 mites");
        assertThat(scene.place.washes().wash(scene.fresh.id()).handling())
                .isEqualTo(new Handling(null, null, true, 3.2, null, false, null));
    }

    @Test
    void connectionLost_entryIsKeptAndSentOnceWhenItIsBack() {
        browser.driver.get(scene.address("/washes/" + scene.fresh.id()));
        id("count-mites").sendKeys("5");
        id("count-bees").sendKeys("301");
        offline(true);
        browser.press("Save the count");
        browser.waitFor("No connection. This is kept on this device");
        browser.screenshot("day-offline");
        offline(false);
        browser.driver.executeScript("window.dispatchEvent(new Event('online'))");
        browser.waitFor("5 mites");
        assertThat(scene.place.sheets().of(scene.fresh.id()).mites()).contains(5);
        assertThat(scene.place.sheets().of(scene.fresh.id()).passes().get(0).counts()).hasSize(1);
    }

    @Test
    void draft_survivesClosingThePage() {
        browser.driver.get(scene.address("/washes/" + scene.fresh.id()));
        id("count-mites").sendKeys("7");
        browser.driver.get(scene.address("/washes"));
        browser.driver.get(scene.address("/washes/" + scene.fresh.id()));
        browser.waitFor("Kept from earlier");
        assertThat(id("count-mites").getDomProperty("value")).isEqualTo("7");
        browser.press("Throw away what was kept");
        assertThat(id("count-mites").getDomProperty("value")).isEmpty();
    }

    @Test
    void someoneElseWasFaster_theChangeIsShown_andASecondTryGoesThrough() {
        browser.driver.get(scene.address("/washes/" + scene.fresh.id()));
        id("count-mites").sendKeys("3");
        id("count-bees").sendKeys("300");
        Visitor other = new Visitor(scene);
        other.post(
                "/api/washes/" + scene.fresh.id() + "/sample",
                "{\"version\":1,\"sampledOn\":\"2031-05-20\",\"rinses\":2,\"by\":\""
                        + scene.brook.id()
                        + "\"}");
        browser.press("Save the count");
        browser.waitFor("Somebody changed this while you had it open");
        browser.waitFor("Brook");
        browser.screenshot("day-conflict");
        browser.press("Save the count");
        browser.waitFor("3 mites");
        Wash now = scene.place.washes().wash(scene.fresh.id());
        assertThat(now.rinses()).isEqualTo(2);
        assertThat(now.bees()).isEqualTo(300);
    }

    @Test
    void benchPage_followsTheBench_andHoldReachesIt() {
        scene.board.put(Cycles3.state(BenchState.State.RUNNING, scene.fresh.id()), Scene.NOON);
        scene.board.put(Cycles3.live(60), Scene.NOON);
        browser.driver.get(scene.address("/"));
        browser.waitFor("2:00");
        scene.board.put(Cycles3.live(80), Scene.NOON);
        browser.waitFor("1:40");
        browser.press("Hold");
        browser.waitFor("Hold was sent");
        assertThat(scene.link.commands)
                .extracting(BenchCommand::action)
                .containsExactly(BenchCommand.Action.HOLD);
        scene.board.put(Cycles3.state(BenchState.State.HELD, scene.fresh.id()), Scene.NOON);
        browser.waitFor("Close the lid, then press restart at the bench.");
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void looseCycle_isTiedToItsWash() {
        long before = scene.place.washes().list(WashFilter.ALL, page()).total();
        browser.driver.get(scene.address("/cycles"));
        String form = "attach-" + scene.loose.cycleId() + "-1";
        new Select(id(form + "-washId")).selectByValue(scene.fresh.id().toString());
        browser.press("Tie to the wash");
        browser.waitFor("Wash of Alder");
        assertThat(scene.place.sheets().of(scene.fresh.id()).passes().get(0).cycles()).hasSize(1);
        assertThat(scene.place.washes().list(WashFilter.ALL, page()).total()).isEqualTo(before);
    }

    /** The button of the form that carries this hidden value. */
    private void pressIn(String hidden) {
        browser.found(By.xpath("//form[.//input[@value='" + hidden + "']]//button")).click();
    }

    @Test
    void day_drawn_sent_counted_withASecondWashAndAPhoto(@TempDir Path pictures)
            throws IOException {
        browser.driver.get(scene.address("/days"));
        browser.press("Choose the colonies");
        browser.waitFor("How many to wash");
        browser.type("day-howMany", "2");
        browser.type("day-seed", "7");
        browser.press("Make the work list");
        browser.waitFor("drawn with seed 7");
        browser.type("next-jars", "2");
        browser.press("Send the next ticket");
        browser.waitFor("Nothing waits for a bench");
        assertThat(scene.link.tickets).hasSize(2);
        browser.screenshot("day-list");
        browser.driver.get(scene.address("/washes/" + scene.link.tickets.get(0).washId()));
        id("count-mites").sendKeys("3");
        id("count-bees").sendKeys("300");
        browser.press("Save the count");
        browser.waitFor("1.00");
        browser.unfold("Second wash of the same bees");
        id("second-mites").sendKeys("1");
        browser.press("Save the count");
        browser.waitFor("Second wash, ");
        Path picture = pictures.resolve("sieve.png");
        ImageIO.write(
                new BufferedImage(2_000, 10, BufferedImage.TYPE_INT_RGB), "png", picture.toFile());
        browser.unfold("Add a photo");
        id("photo-file").sendKeys(picture.toString());
        browser.press("Send the photo");
        browser.wait(ExpectedConditions.presenceOfElementLocated(By.cssSelector(".photo img")));
        var photos = scene.place.photos().ofWash(scene.link.tickets.get(0).washId());
        assertThat(photos).hasSize(1);
        // Shrunk by the page before it was sent.
        byte[] sent = scene.place.photos().bytes(photos.get(0).id());
        assertThat(ImageIO.read(new ByteArrayInputStream(sent)).getWidth()).isEqualTo(1_600);
        browser.screenshot("day-second-wash");
        assertThat(browser.complaints()).isEmpty();
        assertThat(browser.seriousViolations()).isEmpty();
    }

    @Test
    void treatment_isNoted_andTheSpiritIsToppedUp() {
        browser.driver.get(scene.address("/colonies/" + scene.alder.id()));
        browser.unfold("treated");
        id("treatment-substance").sendKeys("oxalic acid");
        browser.screenshot("day-treatment");
        pressIn("TREATMENT");
        browser.waitFor("treated oxalic acid");
        browser.driver.get(scene.address("/spirit/" + scene.batch.id()));
        browser.unfold("topped up");
        id("TOP_UP-volume_mL").sendKeys("100");
        id("TOP_UP-strength_pctVol").sendKeys("95");
        pressIn("TOP_UP");
        browser.waitFor("of 95.0 % vol");
        assertThat(browser.complaints()).isEmpty();
    }

    private static Page page() {
        return Page.first(10);
    }
}
