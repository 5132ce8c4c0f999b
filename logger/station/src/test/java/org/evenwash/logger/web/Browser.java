package org.evenwash.logger.web;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.logging.Level;
import org.openqa.selenium.By;
import org.openqa.selenium.WebDriver;
import org.openqa.selenium.WebDriverException;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.logging.LogEntry;
import org.openqa.selenium.logging.LogType;
import org.openqa.selenium.logging.LoggingPreferences;
import org.openqa.selenium.support.ui.ExpectedConditions;
import org.openqa.selenium.support.ui.Select;
import org.openqa.selenium.support.ui.WebDriverWait;

/** Debian's Chromium at a given width, with what the tests ask of it. */
final class Browser implements AutoCloseable {
    private static final Path CHROMIUM = Path.of("/usr/bin/chromium");
    private static final Path DRIVER = Path.of("/usr/bin/chromedriver");
    private static final Path SCREENSHOTS = Path.of("target", "screenshots");
    private static final Duration PATIENCE = Duration.ofSeconds(60);
    private static final Duration LOOKS_EVERY = Duration.ofMillis(50);

    final ChromeDriver driver;
    private final int width;

    /**
     * @throws IllegalStateException with the line to run if Chromium is not installed
     */
    Browser(int width, int height, Path profile) {
        if (!Files.isExecutable(CHROMIUM) || !Files.isExecutable(DRIVER)) {
            throw new IllegalStateException(
                    "provision: the tests need chromium chromium-driver; run this first:\n"
                            + "  sudo apt-get update && sudo apt-get install -y"
                            + " --no-install-recommends chromium chromium-driver");
        }
        this.width = width;
        ChromeOptions options = new ChromeOptions();
        options.setBinary(CHROMIUM.toFile());
        options.addArguments(
                "--headless=new",
                "--no-sandbox",
                "--hide-scrollbars",
                "--disable-gpu",
                "--disable-quic",
                "--no-first-run",
                "--disable-background-networking",
                "--disable-component-update",
                "--disable-sync",
                "--accept-lang=en-GB",
                "--user-data-dir=" + profile);
        LoggingPreferences logs = new LoggingPreferences();
        logs.enable(LogType.BROWSER, Level.ALL);
        options.setCapability("goog:loggingPrefs", logs);
        driver =
                new ChromeDriver(
                        new ChromeDriverService.Builder()
                                .usingDriverExecutable(DRIVER.toFile())
                                .build(),
                        options);
        driver.executeCdpCommand(
                "Emulation.setDeviceMetricsOverride",
                Map.of("width", width, "height", height, "deviceScaleFactor", 1, "mobile", false));
    }

    void dark(boolean dark) {
        driver.executeCdpCommand(
                "Emulation.setEmulatedMedia",
                Map.of(
                        "features",
                        List.of(
                                Map.of(
                                        "name",
                                        "prefers-color-scheme",
                                        "value",
                                        dark ? "dark" : "light"))));
    }

    /** The page as it would be printed. */
    void printed(boolean printed) {
        driver.executeCdpCommand(
                "Emulation.setEmulatedMedia",
                Map.of("media", printed ? "print" : "", "features", List.of()));
    }

    /**
     * What {@code asked} finds once it is there. A page that is being exchanged answers with all sorts
     * of errors; only time is a failure, and it names the last of them.
     */
    <T> T wait(Function<? super WebDriver, T> asked) {
        return wait(PATIENCE, asked);
    }

    <T> T wait(Duration patience, Function<? super WebDriver, T> asked) {
        return new WebDriverWait(driver, patience, LOOKS_EVERY)
                .ignoring(WebDriverException.class)
                .until(asked);
    }

    void waitFor(String words) {
        wait(ExpectedConditions.textToBePresentInElementLocated(By.tagName("main"), words));
    }

    /** Shown, and scrolled to where a finger can reach it. */
    WebElement found(By by) {
        return wait(
                shown -> {
                    WebElement element = shown.findElement(by);
                    driver.executeScript("arguments[0].scrollIntoView({block: 'center'})", element);
                    return element.isDisplayed() ? element : null;
                });
    }

    void press(String words) {
        found(By.xpath("//button[contains(normalize-space(.), '" + words + "')]")).click();
    }

    void unfold(String words) {
        found(By.xpath("//summary[contains(normalize-space(.), '" + words + "')]")).click();
    }

    void follow(String words) {
        found(By.xpath("//main//a[contains(normalize-space(.), '" + words + "')]")).click();
    }

    void type(String id, String text) {
        WebElement field = found(By.id(id));
        field.clear();
        field.sendKeys(text);
    }

    void choose(String id, String text) {
        new Select(found(By.id(id))).selectByVisibleText(text);
    }

    /** The whole page, also what lies below the window. */
    void screenshot(String name) {
        Object png =
                driver.executeCdpCommand(
                                "Page.captureScreenshot",
                                Map.of("format", "png", "captureBeyondViewport", true))
                        .get("data");
        try {
            Files.createDirectories(SCREENSHOTS);
            Files.write(
                    SCREENSHOTS.resolve(name + "-" + width + ".png"),
                    Base64.getDecoder().decode((String) png));
        } catch (IOException e) {
            throw new UncheckedIOException("cannot write the screenshot " + name, e);
        }
    }

    /** What the console says since it was last asked, warnings and errors only. */
    List<String> complaints() {
        return driver.manage().logs().get(LogType.BROWSER).getAll().stream()
                .filter(entry -> entry.getLevel().intValue() >= Level.WARNING.intValue())
                .map(LogEntry::getMessage)
                .toList();
    }

    /** Pixels by which the page is wider than the window. */
    long overflow() {
        return (Long)
                driver.executeScript(
                        "return document.documentElement.scrollWidth - document.documentElement.clientWidth");
    }

    /** Visible links, buttons and inputs lower than {@code least} pixels, running text apart. */
    @SuppressWarnings("unchecked") // a script's list of strings
    List<String> smallTargets(int least) {
        return (List<String>)
                driver.executeScript(
                        "return [...document.querySelectorAll('nav a, main .button, main .lines a,"
                                + " button, input:not([type=hidden]):not([type=checkbox]), select,"
                                + " summary')].filter(e => e.offsetParent !== null &&"
                                + " e.getBoundingClientRect().height < arguments[0]).map(e =>"
                                + " e.outerHTML.slice(0, 120))",
                        least);
    }

    /** Findings of axe-core that are serious or critical, each with where it is. */
    List<String> seriousViolations() {
        return violations("{}");
    }

    /** As {@link #seriousViolations}, of the two rules that look at colours. */
    List<String> weakContrasts() {
        return violations("{runOnly: ['color-contrast', 'link-in-text-block']}");
    }

    @SuppressWarnings("unchecked") // a script's list of strings
    private List<String> violations(String options) {
        if (Boolean.FALSE.equals(driver.executeScript("return 'axe' in window"))) {
            driver.executeScript(axe());
        }
        return (List<String>)
                driver.executeAsyncScript(
                        "const done = arguments[arguments.length - 1];"
                                + ("axe.run(" + options + ").then(r => done(r.violations")
                                + ".filter(v => ['serious', 'critical'].includes(v.impact))"
                                + ".map(v => v.id + ': ' + v.help + ' at '"
                                + " + v.nodes.map(n => n.html).join(' | '))));");
    }

    private static String axe() {
        try (InputStream script = Browser.class.getResourceAsStream("/axe/axe.min.js")) {
            return new String(script.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException("cannot read axe", e);
        }
    }

    @Override
    public void close() {
        driver.quit();
    }
}
