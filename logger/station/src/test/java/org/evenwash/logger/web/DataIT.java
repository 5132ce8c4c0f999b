package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.WashFilter;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.openqa.selenium.By;
import org.openqa.selenium.support.ui.ExpectedConditions;

/** Old records brought in by a person, in a real browser. */
class DataIT {
    private static final Duration LONG = Duration.ofMinutes(5);
    private static final int MANY = 10_000;

    private Browser browser;

    private void tick(String name) {
        browser.found(By.name(name)).click();
    }

    private void bringIn(Scene scene, Path file) {
        browser.driver.get(scene.address("/data"));
        browser.driver.findElement(By.id("import-file")).sendKeys(file.toString());
        browser.press("Look at the file");
        browser.waitFor("How to read it");
    }

    private static long washes(Scene scene) {
        return scene.place.washes().list(WashFilter.ALL, Page.first(1)).total();
    }

    @ParameterizedTest
    @CsvSource({"390, 844", "1280, 800"})
    void file_columns_dryRun_import_undo(int width, int height, @TempDir Path folder)
            throws IOException {
        Path file =
                Files.writeString(
                        folder.resolve("notebook.csv"),
                        """
                        Tag;Kasten;Bienen;Fund
                        02.04.2031;Elder;301;7
                        03.04.2031;Ash;299;viele
                        04.04.2031;Elder;310;8
                        """);
        try (Scene scene = Scene.populated(folder);
                Browser opened = new Browser(width, height, folder.resolve("profile"))) {
            browser = opened;
            long before = washes(scene);
            bringIn(scene, file);
            browser.choose("plan-column.day", "Tag");
            browser.choose("plan-column.colony", "Kasten");
            browser.choose("plan-column.mites", "Fund");
            browser.choose("plan-dayOrder", "day, month, year, as 09.07.2031");
            browser.type("plan-apiary", "Old Quarry");
            browser.press("Dry run");
            browser.waitFor("What would be imported");
            browser.waitFor("viele");
            assertThat(washes(scene)).isEqualTo(before);
            browser.screenshot("import-dry-run");
            tick("leaveOut");
            tick("makeNew");
            browser.press("Import 2 washes");
            browser.waitFor("See the washes");
            assertThat(washes(scene)).isEqualTo(before + 2);
            browser.screenshot("import-done");
            assertThat(browser.seriousViolations()).isEmpty();
            browser.unfold("Undo");
            browser.type("undo-why", "only tried");
            browser.press("Undo it");
            browser.waitFor("only tried");
            assertThat(washes(scene)).isEqualTo(before);
            assertThat(browser.complaints()).isEmpty();
        }
    }

    /** Long enough to be seen at work; the page comes back by itself once it is done. */
    @ParameterizedTest
    @CsvSource({"390, 844"})
    void longImport_showsHowFarItIs(int width, int height, @TempDir Path folder)
            throws IOException {
        StringBuilder rows = new StringBuilder("Date,Apiary,Colony,Bees,Mites\n");
        for (int i = 0; i < MANY; i++) {
            rows.append("20").append(10 + i % 20).append("-06-").append(10 + i % 18);
            rows.append(",Old Quarry,Colony ").append(i % 300).append(',');
            rows.append(280 + i % 40).append(',').append(i % 23).append('\n');
        }
        Path file = Files.writeString(folder.resolve("long.csv"), rows);
        try (Scene scene = Scene.populated(folder);
                Browser opened = new Browser(width, height, folder.resolve("profile"))) {
            browser = opened;
            long before = washes(scene);
            bringIn(scene, file);
            browser.press("Dry run");
            browser.waitFor("What would be imported");
            tick("makeNew");
            browser.press("Import 10,000 washes");
            browser.wait(
                    ExpectedConditions.or(
                            ExpectedConditions.presenceOfElementLocated(
                                    By.cssSelector("main progress")),
                            ExpectedConditions.textToBePresentInElementLocated(
                                    By.tagName("main"), "See the washes")));
            browser.screenshot("import-running");
            browser.wait(
                    LONG,
                    ExpectedConditions.textToBePresentInElementLocated(
                            By.tagName("main"), "See the washes"));
            assertThat(washes(scene)).isEqualTo(before + MANY);
            assertThat(browser.complaints()).isEmpty();
        }
    }
}
