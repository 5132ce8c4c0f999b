package org.evenwash.logger.web;

import static java.util.concurrent.TimeUnit.SECONDS;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.nio.file.Path;
import java.time.Duration;
import org.assertj.core.api.SoftAssertions;
import org.evenwash.logger.access.FrontDoor;
import org.evenwash.logger.wash.By;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.openqa.selenium.By.ByCssSelector;
import org.openqa.selenium.By.ById;
import org.openqa.selenium.support.ui.ExpectedConditions;

/** Signing in, accounts and an expired sign-in, in a browser. */
class AccountsIT {
    private static final int SMALLEST_TARGET = 48;

    private static void look(Browser browser, String name, SoftAssertions all) {
        all.assertThat(browser.overflow()).as(name + " is wider than the window").isZero();
        all.assertThat(browser.smallTargets(SMALLEST_TARGET)).as(name).isEmpty();
        for (boolean dark : new boolean[] {false, true}) {
            browser.dark(dark);
            all.assertThat(browser.seriousViolations()).as(name + dark).isEmpty();
            browser.screenshot(name + (dark ? "-dark" : ""));
        }
        browser.dark(false);
    }

    /** By script: at the foot of a phone's page the places lie over the button until it is scrolled. */
    private static void press(Browser browser, String selector) {
        browser.driver.executeScript(
                "arguments[0].click()", browser.driver.findElement(new ByCssSelector(selector)));
    }

    private static void signIn(Browser browser, String name) {
        browser.type("sign-in-name", name);
        browser.type("sign-in-password", Scene.PASSWORD);
        press(browser, "main button.primary");
    }

    private static void arrivesAt(Browser browser, String path) {
        browser.wait(shown -> shown.getCurrentUrl().endsWith(path));
    }

    @ParameterizedTest
    @CsvSource({"390, 844", "1280, 800"})
    void fromTheFirstPassword_toATokenAndALockedAccount(
            int width, int height, @TempDir Path folder) {
        SoftAssertions all = new SoftAssertions();
        try (Scene scene = Scene.populated(folder);
                Browser browser = new Browser(width, height, folder.resolve("profile"))) {
            scene.place.benches().admit(Scene.BENCH, Scene.BENCH, true, By.nobody());
            browser.driver.get(scene.address("/accounts"));
            look(browser, "accounts-first", all);
            browser.type("first-person", "Ada");
            browser.type("first-signInName", "ada");
            browser.type("first-password", Scene.PASSWORD);
            browser.type("first-passwordAgain", Scene.PASSWORD);
            press(browser, "main button.primary");
            browser.wait(shown -> shown.getPageSource().contains("Signed in as ada"));
            scene.doors.accounts.add(
                    "cleo", "Cleo", org.evenwash.logger.store.Role.OPERATOR, Scene.PASSWORD);
            for (int i = 0; i < 10; i++) {
                scene.doors.front.signIn("cleo", "guess", "192.0.2." + i);
            }
            scene.token("ada", "monitoring", null, 365);
            browser.driver.get(scene.address("/accounts"));
            browser.driver.executeScript(
                    "document.querySelectorAll('details').forEach(d => d.open = true)");
            assertThat(browser.driver.getPageSource()).contains("locked after wrong passwords");
            look(browser, "accounts", all);
            addsTheThird(browser);
            browser.driver.executeScript(
                    "document.querySelectorAll('details').forEach(d => d.open = true)");
            browser.type("token-tokenName", "export to the office");
            browser.type("token-ownPassword", Scene.PASSWORD);
            press(browser, "form[action='/api/tokens'] button");
            browser.wait(shown -> shown.getPageSource().contains("evenwash_"));
            look(browser, "token", all);
            browser.driver.get(scene.address("/account"));
            look(browser, "account", all);
            press(browser, ".who button");
            arrivesAt(browser, "/sign-in");
            look(browser, "sign-in", all);
            browser.type("sign-in-name", "ada");
            browser.type("sign-in-password", "not this one");
            press(browser, "main button.primary");
            browser.wait(shown -> shown.getPageSource().contains("do not fit"));
            look(browser, "sign-in-wrong", all);
            all.assertThat(browser.complaints())
                    .filteredOn(line -> !line.matches(".*status of (401|422) .*"))
                    .isEmpty();
            all.assertAll();
        }
    }

    /** A slip in the own password costs nothing else that was typed, and no password stays in the browser. */
    private static void addsTheThird(Browser browser) {
        browser.type("account-person", "Brook");
        browser.type("account-signInName", "brook");
        browser.type("account-password", Scene.PASSWORD);
        browser.type("account-passwordAgain", Scene.PASSWORD);
        browser.type("account-ownPassword", "not this one");
        press(browser, "form[action='/api/accounts'] button");
        browser.wait(shown -> shown.getPageSource().contains("is not right"));
        assertThat(browser.driver.executeScript("return JSON.stringify(localStorage)").toString())
                .doesNotContain(Scene.PASSWORD, "not this one");
        browser.driver.findElement(new ById("account-ownPassword")).clear();
        browser.type("account-ownPassword", Scene.PASSWORD);
        press(browser, "form[action='/api/accounts'] button");
        browser.wait(shown -> shown.getPageSource().contains("Brook, operator"));
    }

    /** What was typed while the sign-in ran out is sent after signing in again, in the same name. */
    @Test
    void signInThatEnded_losesNothingTyped_andSendsItAfterwards(@TempDir Path folder) {
        TurnableClock clock = new TurnableClock();
        try (Scene scene = Scene.populated(folder, clock);
                Browser browser = new Browser(390, 844, folder.resolve("profile"))) {
            scene.passwords();
            String wash = "/washes/" + scene.fresh.id();
            browser.driver.get(scene.address(wash));
            signIn(browser, "cleo");
            arrivesAt(browser, wash);
            browser.type("count-mites", "7");
            clock.turn(FrontDoor.IDLE.plus(Duration.ofMinutes(1)));
            press(browser, "form[data-keep^='count-'] button.primary");
            browser.wait(
                    ExpectedConditions.textToBePresentInElementLocated(
                            new ByCssSelector(".answer"), "The sign-in has ended"));
            browser.screenshot("sign-in-ended");
            assertThat(scene.place.sheets().of(scene.fresh.id()).passes())
                    .allMatch(pass -> pass.counts().isEmpty());

            // Somebody else on the same phone: nothing of it is shown to them or sent in their
            // name.
            press(browser, ".answer a");
            signIn(browser, "brook");
            arrivesAt(browser, wash);
            assertThat(browser.driver.findElement(new ById("count-mites")).getAttribute("value"))
                    .isEmpty();
            press(browser, ".who button");
            arrivesAt(browser, "/sign-in");

            browser.driver.get(scene.address(wash));
            signIn(browser, "cleo");
            await("count")
                    .atMost(30, SECONDS)
                    .until(
                            () ->
                                    scene.place.sheets().of(scene.fresh.id()).passes().stream()
                                            .anyMatch(pass -> !pass.counts().isEmpty()));
            var count = scene.place.sheets().of(scene.fresh.id()).passes().get(0).counts().get(0);
            assertThat(count.mites()).isEqualTo(7);
            assertThat(count.countedBy())
                    .isEqualTo(scene.doors.accounts.named("cleo").operatorId());
        }
    }
}
