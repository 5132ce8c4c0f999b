package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Map;
import javax.imageio.ImageIO;
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
import org.openqa.selenium.support.ui.WebDriverWait;

/** What a person does with the pages on a phone, in a real browser. */
class DayIT {
    private Scene scene;
    private Browser browser;
    private WebDriverWait wait;

    @BeforeEach
    void open(@TempDir Path folder) {
        scene = Scene.populated(folder);
        browser = new Browser(390, 844, folder.resolve("profile"));
        wait = new WebDriverWait(browser.driver, Duration.ofSeconds(20));
    }

    @AfterEach
    void close() {
        browser.close();
        scene.close();
    }

    private WebElement id(String id) {
        return browser.driver.findElement(By.id(id));
    }

    private void choose(String id, String text) {
        new Select(id(id)).selectByVisibleText(text);
    }

    private void press(String words) {
        WebElement button =
                browser.driver.findElement(
                        By.xpath("//button[contains(normalize-space(.), '" + words + "')]"));
        browser.driver.executeScript("arguments[0].scrollIntoView({block: 'center'})", button);
        button.click();
    }

    private void waitFor(String words) {
        wait.until(ExpectedConditions.textToBePresentInElementLocated(By.tagName("main"), words));
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
        choose("plan-colonyId", "Cherry, Hollow Lane");
        choose("plan-operatorId", "Ada");
        choose("plan-benchId", "shed-1");
        press("Make the wash");
        waitFor("sent, not answered yet");
        assertThat(scene.link.tickets).hasSize(1);
        id("count-mites").sendKeys("2");
        id("count-bees").sendKeys("300");
        choose("count-countedBy", "Ada");
        press("Save the count");
        waitFor("0.67");
        waitFor("95 %: 0.08");
        browser.screenshot("day-result");
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void wrongEntry_isMarkedAtItsField_andStaysTyped() {
        browser.driver.get(scene.address("/washes/" + scene.fresh.id()));
        id("count-mites").sendKeys("2x");
        press("Save the count");
        waitFor("Mites needs a whole number");
        assertThat(id("count-mites").getDomProperty("value")).isEqualTo("2x");
        assertThat(id("count-mites").getDomAttribute("aria-invalid")).isEqualTo("true");
        browser.screenshot("day-mistake");
        assertThat(browser.seriousViolations()).isEmpty();
    }

    @Test
    void connectionLost_entryIsKeptAndSentOnceWhenItIsBack() {
        browser.driver.get(scene.address("/washes/" + scene.fresh.id()));
        id("count-mites").sendKeys("5");
        id("count-bees").sendKeys("301");
        offline(true);
        press("Save the count");
        waitFor("No connection. This is kept on this device");
        browser.screenshot("day-offline");
        offline(false);
        browser.driver.executeScript("window.dispatchEvent(new Event('online'))");
        waitFor("5 mites");
        assertThat(scene.place.sheets().of(scene.fresh.id()).mites()).contains(5);
        assertThat(scene.place.sheets().of(scene.fresh.id()).passes().get(0).counts()).hasSize(1);
    }

    @Test
    void draft_survivesClosingThePage() {
        browser.driver.get(scene.address("/washes/" + scene.fresh.id()));
        id("count-mites").sendKeys("7");
        browser.driver.get(scene.address("/washes"));
        browser.driver.get(scene.address("/washes/" + scene.fresh.id()));
        waitFor("Kept from earlier");
        assertThat(id("count-mites").getDomProperty("value")).isEqualTo("7");
        press("Throw away what was kept");
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
        press("Save the count");
        waitFor("Somebody changed this while you had it open");
        waitFor("Brook");
        browser.screenshot("day-conflict");
        press("Save the count");
        waitFor("3 mites");
        Wash now = scene.place.washes().wash(scene.fresh.id());
        assertThat(now.rinses()).isEqualTo(2);
        assertThat(now.bees()).isEqualTo(300);
    }

    @Test
    void benchPage_followsTheBench_andHoldReachesIt() {
        scene.board.put(Cycles3.state(BenchState.State.RUNNING, scene.fresh.id()), Scene.NOON);
        scene.board.put(Cycles3.live(60), Scene.NOON);
        browser.driver.get(scene.address("/"));
        waitFor("2:00");
        scene.board.put(Cycles3.live(80), Scene.NOON);
        waitFor("1:40");
        press("Hold");
        waitFor("Hold was sent");
        assertThat(scene.link.commands)
                .extracting(BenchCommand::action)
                .containsExactly(BenchCommand.Action.HOLD);
        scene.board.put(Cycles3.state(BenchState.State.HELD, scene.fresh.id()), Scene.NOON);
        waitFor("Close the lid, then press restart at the bench.");
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void looseCycle_isTiedToItsWash() {
        long before = scene.place.washes().list(WashFilter.ALL, page()).total();
        browser.driver.get(scene.address("/cycles"));
        String form = "attach-" + scene.loose.cycleId() + "-1";
        new Select(id(form + "-washId")).selectByValue(scene.fresh.id().toString());
        press("Tie to the wash");
        waitFor("Wash of Alder");
        assertThat(scene.place.sheets().of(scene.fresh.id()).passes().get(0).cycles()).hasSize(1);
        assertThat(scene.place.washes().list(WashFilter.ALL, page()).total()).isEqualTo(before);
    }

    private void open(String summary) {
        WebElement line =
                browser.driver.findElement(
                        By.xpath("//summary[contains(normalize-space(.), '" + summary + "')]"));
        browser.driver.executeScript("arguments[0].scrollIntoView({block: 'center'})", line);
        line.click();
    }

    /** The button of the form that carries this hidden value. */
    private void pressIn(String hidden) {
        WebElement button =
                browser.driver.findElement(
                        By.xpath("//form[.//input[@value='" + hidden + "']]//button"));
        browser.driver.executeScript("arguments[0].scrollIntoView({block: 'center'})", button);
        button.click();
    }

    private void retype(String id, String text) {
        id(id).clear();
        id(id).sendKeys(text);
    }

    @Test
    void day_drawn_sent_counted_withASecondWashAndAPhoto(@TempDir Path pictures)
            throws IOException {
        browser.driver.get(scene.address("/days"));
        press("Choose the colonies");
        waitFor("How many to wash");
        retype("day-howMany", "2");
        retype("day-seed", "7");
        press("Make the work list");
        waitFor("drawn with seed 7");
        retype("next-jars", "2");
        press("Send the next ticket");
        waitFor("Nothing waits for a bench");
        assertThat(scene.link.tickets).hasSize(2);
        browser.screenshot("day-list");
        browser.driver.get(scene.address("/washes/" + scene.link.tickets.get(0).washId()));
        id("count-mites").sendKeys("3");
        id("count-bees").sendKeys("300");
        press("Save the count");
        waitFor("1.00");
        open("Second wash of the same bees");
        id("second-mites").sendKeys("1");
        press("Save the count");
        waitFor("Second wash, ");
        Path picture = pictures.resolve("sieve.png");
        ImageIO.write(
                new BufferedImage(2_000, 10, BufferedImage.TYPE_INT_RGB), "png", picture.toFile());
        open("Add a photo");
        id("photo-file").sendKeys(picture.toString());
        press("Send the photo");
        wait.until(ExpectedConditions.presenceOfElementLocated(By.cssSelector(".photo img")));
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
        open("treated");
        id("treatment-substance").sendKeys("oxalic acid");
        browser.screenshot("day-treatment");
        pressIn("TREATMENT");
        waitFor("treated oxalic acid");
        browser.driver.get(scene.address("/spirit/" + scene.batch.id()));
        open("topped up");
        id("TOP_UP-volume_mL").sendKeys("100");
        id("TOP_UP-strength_pctVol").sendKeys("95");
        pressIn("TOP_UP");
        waitFor("of 95.0 % vol");
        assertThat(browser.complaints()).isEmpty();
    }

    private static Page page() {
        return Page.first(10);
    }
}
