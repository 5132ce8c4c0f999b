package org.evenwash.logger.web;

import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import org.assertj.core.api.SoftAssertions;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Colonies, apiaries and treatments over half a year, in a real browser. */
class OverTimePagesIT {
    @ParameterizedTest
    @CsvSource({"390, 844", "1280, 800"})
    void everyPage_isCleanAtThisWidth(int width, int height, @TempDir Path folder) {
        try (Scene scene = Scene.populated(folder);
                Browser browser = new Browser(width, height, folder.resolve("profile"))) {
            OverTimeScene time = OverTimeScene.in(scene);
            Map<String, String> pages = new LinkedHashMap<>();
            pages.put("colonies-list", "/colonies?sort=RESULT");
            pages.put("colony-growing", "/colonies/" + time.growing.id());
            pages.put("colony-treated", "/colonies/" + time.treated.id());
            pages.put("apiary", "/apiaries/" + scene.alder.apiaryId() + "?days=42");
            pages.put("treatment", "/treatments/" + time.treatment);
            pages.put("treatment-unfinished", "/treatments/" + time.unfinished);
            pages.put("wash-one-of-two", "/washes/" + time.oneOfTwo);
            pages.put("colony-washed-twice", "/colonies/" + time.twice.id());
            pages.put("wash-bees-estimated", "/washes/" + time.estimated);
            pages.put("wash-undecided", "/washes/" + time.open);
            SoftAssertions all = new SoftAssertions();
            pages.forEach((name, path) -> PagesIT.look(browser, scene, path, name, all));
            all.assertAll();
        }
    }
}
