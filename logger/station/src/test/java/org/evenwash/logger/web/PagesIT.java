package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import org.assertj.core.api.SoftAssertions;
import org.evenwash.logger.wash.By;
import org.evenwash.record.BenchState;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Walks every page in a real browser, on a phone and on a desk, light and dark. */
class PagesIT {
    /** Smallest height of anything to be touched, px. */
    private static final int SMALLEST_TARGET = 48;

    @ParameterizedTest
    @CsvSource({"390, 844", "1280, 800"})
    void everyPage_isCleanAtThisWidth(int width, int height, @TempDir Path folder) {
        try (Scene scene = Scene.populated(folder);
                Browser browser = new Browser(width, height, folder.resolve("profile"))) {
            var threshold =
                    scene.place.standards().thresholds().values().stream()
                            .filter(one -> one.per100Bees().isPresent())
                            .findFirst()
                            .orElseThrow();
            scene.place.standards().chooseThreshold(threshold.id(), null, By.nobody());
            scene.planADay();
            scene.calibrate();
            scene.board.put(Cycles3.state(BenchState.State.RUNNING, scene.fresh.id()), Scene.NOON);
            for (int second = 0; second <= 81; second++) {
                scene.board.put(Cycles3.live(second), Scene.NOON);
            }
            SoftAssertions all = new SoftAssertions();
            for (String path : PagesTest.pages(scene)) {
                look(browser, scene, path, all);
            }
            look(browser, scene, "/nowhere", all);
            scene.board.put(Cycles3.state(BenchState.State.HELD, scene.fresh.id()), Scene.NOON);
            browser.driver.get(scene.address("/"));
            browser.screenshot("bench-held");
            browser.printed(true);
            browser.driver.get(scene.address("/washes/" + scene.counted.id()));
            browser.screenshot("washes-counted-print");
            all.assertAll();
        }
    }

    /** A check of the check: what axe-core is there to find, it finds. */
    @Test
    void plantedViolation_isFound(@TempDir Path folder) {
        try (Scene scene = Scene.empty(folder);
                Browser browser = new Browser(800, 600, folder.resolve("profile"))) {
            browser.driver.get(scene.address("/operators"));
            browser.driver.executeScript(
                    "document.querySelectorAll('label').forEach(label => label.remove())");
            assertThat(browser.seriousViolations()).anyMatch(line -> line.startsWith("label"));
            assertThat(browser.weakContrasts()).isEmpty();
            browser.driver.executeScript("document.querySelector('h1').style.color = '#dddddd'");
            assertThat(browser.weakContrasts()).anyMatch(line -> line.startsWith("color-contrast"));
        }
    }

    private static void look(Browser browser, Scene scene, String path, SoftAssertions all) {
        look(browser, scene, path, name(scene, path), all);
    }

    /** @param name of its screenshots */
    static void look(Browser browser, Scene scene, String path, String name, SoftAssertions all) {
        browser.dark(false);
        browser.driver.get(scene.address(path));
        all.assertThat(browser.overflow()).as(path + " is wider than the window").isZero();
        all.assertThat(browser.smallTargets(SMALLEST_TARGET)).as(path).isEmpty();
        all.assertThat(browser.seriousViolations()).as(path).isEmpty();
        browser.screenshot(name);
        browser.dark(true);
        all.assertThat(browser.weakContrasts()).as(path + " in the dark").isEmpty();
        browser.screenshot(name + "-dark");
        all.assertThat(browser.complaints())
                .as(path)
                .filteredOn(line -> !(path.equals("/nowhere") && line.contains("404")))
                .isEmpty();
    }

    private static String name(Scene scene, String path) {
        String name =
                path.replace(scene.counted.id().toString(), "counted")
                        .replace(scene.fresh.id().toString(), "fresh")
                        .replace(scene.alder.id().toString(), "one")
                        .replace(scene.day.id().toString(), "one")
                        .replace(scene.batch.id().toString(), "one")
                        .replace(scene.line.toString(), "one")
                        .replace("?pass=SECOND", "-second")
                        .replace("?kind=WASH&subjectId=", "-")
                        .replace("?apiaryId=" + scene.alder.apiaryId(), "")
                        .replace(scene.old.get(0).toString(), "new")
                        .replace(scene.old.get(1).toString(), "checked")
                        .replace(scene.old.get(2).toString(), "imported")
                        .replace(scene.tied.cycleId().toString(), "one")
                        .substring(1)
                        .replace('/', '-');
        return name.isEmpty() ? "bench" : name;
    }
}
