package org.evenwash.demo;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.sun.management.OperatingSystemMXBean;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.lang.management.ManagementFactory;
import java.lang.management.MemoryPoolMXBean;
import java.lang.management.MemoryType;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import java.util.zip.ZipFile;
import org.awaitility.Awaitility;
import org.evenwash.logger.intake.BenchBoard;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.logger.web.WebServer;
import org.evenwash.logger.web.WebSettings;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.Ticket;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A logger with 100,000 washes of 500 colonies over five years, in a heap of 256 MB (the profile sets
 * it): how long every page of the route table takes, and how long an import of as many rows. Prints the
 * time on the clock and the processor time of this whole process, client, compiler and collector included, and
 * fails if a page misses the target by both: the clock also measures what else the machine is doing, the processor
 * time what goes on beside the answer. "first" is the first answer ever, before Java has compiled anything of it. Beside
 * each page stands what Java's own small server takes to hand out as many ready bytes to the same client.
 */
@Tag("benchmark")
class LargeArchiveBenchmarkTest {
    private static final long LONGEST_PAGE_MS = 100;
    private static final Duration LONGEST_IMPORT = Duration.ofSeconds(30);
    private static final long LARGEST_HEAP_MB = 256;
    private static final LocalDate LAST_DAY = LocalDate.of(2031, 10, 1);
    private static final Clock CLOCK =
            Clock.fixed(LAST_DAY.atTime(12, 0).toInstant(ZoneOffset.UTC), ZoneOffset.UTC);
    private static final int ASKED = 40;
    private static final int WARMING = 50;
    private static final ObjectMapper JSON = new ObjectMapper();

    private static Database database;
    private static WebServer server;
    private static BrowserLike browser;
    private static Map<String, List<String>> examples;
    @TempDir static Path folder;

    /** No bench is there. */
    private static final class NoBench implements org.evenwash.logger.wash.BenchLink {
        @Override
        public void send(Ticket ticket) {
            throw new IllegalStateException("nothing here sends a ticket");
        }

        @Override
        public boolean send(BenchCommand command) {
            return false;
        }
    }

    @BeforeAll
    static void fill() {
        Watch watch = new Watch();
        database = Database.open("jdbc:sqlite:" + folder.resolve("archive.db"));
        Archive.fill(database, LAST_DAY);
        print("filled in %s", watch);
        Workplace place = Workplace.over(database, new NoBench(), CLOCK);
        place.recipes().addShipped();
        var threshold =
                place.standards().thresholds().values().stream()
                        .filter(one -> one.per100Bees().isPresent())
                        .findFirst()
                        .orElseThrow();
        place.standards().chooseThreshold(threshold.id(), null, By.nobody());
        server = WebServer.start(database, place, new BenchBoard(), WebSettings.loopback(0));
        browser = new BrowserLike(server.address());
        examples = new Examples(database, place, browser).all();
    }

    @AfterAll
    static void close() {
        server.close();
        database.close();
    }

    @Test
    void everyPage_isServedWithinATenthOfASecond() {
        List<String> slow = new ArrayList<>();
        print(
                "%-44s %8s %8s %8s %8s %8s %8s %8s",
                "page, ms", "first", "p50", "p95", "cpu p50", "cpu p95", "KiB", "x ready");
        for (String route : server.pages()) {
            List<String> paths = examples.getOrDefault(route, List.of(route));
            assertThat(paths)
                    .as("%s has no example: add one to Examples, so that it is measured", route)
                    .noneMatch(path -> path.contains("{"));
            measure(route, paths, slow);
        }
        for (String path : examples.get("more")) {
            measure(path.replaceAll("[0-9a-f-]{36}", "…"), List.of(path), slow);
        }
        assertThat(slow).as("slower than %d ms at the 95th percentile", LONGEST_PAGE_MS).isEmpty();
    }

    private static void measure(String name, List<String> paths, List<String> slow) {
        SplittableRandom random = new SplittableRandom(7);
        double[] clock = new double[ASKED];
        double[] processor = new double[ASKED];
        Watch watch = new Watch();
        browser.get(paths.get(0));
        double first_ms = watch.clock_s() * 1_000;
        String page =
                asked(browser, () -> paths.get(random.nextInt(paths.size())), clock, processor);
        double[] ready = new double[ASKED];
        try (ReadyPage yardstick = new ReadyPage(page)) {
            BrowserLike other = new BrowserLike(yardstick.address());
            asked(other, () -> "/", ready, new double[ASKED]);
        }
        long size = page.length();
        print(
                "%-44s %8.1f %8.1f %8.1f %8.1f %8.1f %8d %8.1f",
                name,
                first_ms,
                clock[ASKED / 2],
                p95(clock),
                processor[ASKED / 2],
                p95(processor),
                size / 1_024,
                clock[ASKED / 2] / ready[ASKED / 2]);
        double long_ms = Math.min(p95(clock), p95(processor));
        if (long_ms > LONGEST_PAGE_MS) {
            slow.add(String.format(Locale.ROOT, "%s: %.0f ms", name, long_ms));
        }
    }

    /** The last answer; what each took is put into the arrays in ascending order. */
    private static String asked(
            BrowserLike client, Supplier<String> path, double[] clock_ms, double[] processor_ms) {
        for (int i = 0; i < WARMING; i++) {
            client.get(path.get());
        }
        String answer = "";
        for (int i = 0; i < ASKED; i++) {
            String next = path.get();
            Watch watch = new Watch();
            answer = client.get(next);
            clock_ms[i] = watch.clock_s() * 1_000;
            processor_ms[i] = watch.processor_s() * 1_000;
        }
        Arrays.sort(clock_ms);
        Arrays.sort(processor_ms);
        return answer;
    }

    /** The JDK's own server with one page that is ready: about the least that a page can take. */
    private static final class ReadyPage implements AutoCloseable {
        private final HttpServer yardstick;

        ReadyPage(String page) {
            byte[] body = page.getBytes(StandardCharsets.UTF_8);
            try {
                yardstick =
                        HttpServer.create(
                                new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
            } catch (IOException e) {
                throw new UncheckedIOException("no port for the yardstick", e);
            }
            yardstick.createContext(
                    "/",
                    exchange -> {
                        exchange.sendResponseHeaders(200, body.length);
                        exchange.getResponseBody().write(body);
                        exchange.close();
                    });
            yardstick.start();
        }

        URI address() {
            return URI.create("http://127.0.0.1:" + yardstick.getAddress().getPort());
        }

        @Override
        public void close() {
            yardstick.stop(0);
        }
    }

    private static double p95(double[] sorted) {
        return sorted[(int) Math.ceil(0.95 * sorted.length) - 1];
    }

    @Test
    void everythingLeaves_andAHundredThousandRowsComeIn_withinHalfAMinute() throws IOException {
        Watch watch = new Watch();
        Path zip = browser.download("/api/export.zip", folder.resolve("all.zip"));
        print("export as CSV: %s, %d KiB", watch, Files.size(zip) / 1_024);
        watch = new Watch();
        Path json = browser.download("/api/export.json", folder.resolve("all.json"));
        print("export as JSON: %s, %d KiB", watch, Files.size(json) / 1_024);
        watch = new Watch();
        Path backup = browser.download("/api/backup", folder.resolve("backup.db"));
        print("backup: %s, %d KiB", watch, Files.size(backup) / 1_024);
        Path csv = folder.resolve("washes.csv");
        try (ZipFile file = new ZipFile(zip.toFile());
                InputStream washes = file.getInputStream(file.getEntry("washes.csv"))) {
            Files.copy(washes, csv);
        }
        imported(csv);
        heap();
    }

    private static void imported(Path csv) throws IOException {
        try (Database empty = Database.open("jdbc:sqlite:" + folder.resolve("import.db"))) {
            Workplace place = Workplace.over(empty, new NoBench(), CLOCK);
            try (WebServer other =
                    WebServer.start(empty, place, new BenchBoard(), WebSettings.loopback(0))) {
                BrowserLike sender = new BrowserLike(other.address());
                Watch watch = new Watch();
                String id = read(sender.upload("/api/imports", csv)).at("/result/id").asText();
                print("upload of %d KiB: %s", Files.size(csv) / 1_024, watch);
                watch = new Watch();
                sender.post("/api/imports/" + id + "/check", "{\"timeZone\": \"Etc/UTC\"}");
                JsonNode checked = finished(sender, id);
                print("dry run: %s", watch);
                assertThat(checked.at("/outcome/ready").asInt())
                        .isGreaterThanOrEqualTo(Archive.WASHES);
                watch = new Watch();
                sender.post("/api/imports/" + id + "/accept", "{\"makeNew\": true}");
                JsonNode imported = finished(sender, id);
                double took_s = watch.processor_s();
                print("import of %d rows: %s", Archive.WASHES, watch);
                assertThat(imported.get("standing").asText()).isEqualTo("IMPORTED");
                assertThat(took_s).isLessThan((double) LONGEST_IMPORT.toSeconds());
                watch = new Watch();
                sender.post("/api/imports/" + id + "/undo", "{\"why\": \"measured\"}");
                assertThat(finished(sender, id).get("standing").asText()).isEqualTo("UNDONE");
                print("undo: %s", watch);
            }
        }
    }

    private static JsonNode finished(BrowserLike sender, String id) {
        Awaitility.await()
                .atMost(5, TimeUnit.MINUTES)
                .pollInterval(100, TimeUnit.MILLISECONDS)
                .until(() -> read(sender.get("/api/imports/" + id)).path("rowsInAll").isNull());
        JsonNode now = read(sender.get("/api/imports/" + id));
        assertThat(now.path("trouble").isNull()).as(now.path("trouble").asText()).isTrue();
        return now;
    }

    private static JsonNode read(String json) {
        try {
            return JSON.readTree(json);
        } catch (IOException e) {
            throw new UncheckedIOException(json, e);
        }
    }

    /** What the heap may grow to is its bound; the peaks tell how much of it was in use. */
    private static void heap() {
        long most = Runtime.getRuntime().maxMemory() / (1_024 * 1_024);
        for (MemoryPoolMXBean pool : ManagementFactory.getMemoryPoolMXBeans()) {
            if (pool.getType() == MemoryType.HEAP) {
                print(
                        "heap, %s: peak %d MiB",
                        pool.getName(), pool.getPeakUsage().getUsed() / (1_024 * 1_024));
            }
        }
        print("heap bound: %d MiB", most);
        assertThat(most)
                .as("run with -Pbenchmarks, which bounds the heap")
                .isLessThanOrEqualTo(LARGEST_HEAP_MB);
    }

    /** Time on the clock, and of all threads of this process on the processor. */
    private static final class Watch {
        private static final OperatingSystemMXBean SYSTEM =
                (OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean();

        private final long clock = System.nanoTime();
        private final long processor = SYSTEM.getProcessCpuTime();

        double clock_s() {
            return (System.nanoTime() - clock) / 1e9;
        }

        double processor_s() {
            return (SYSTEM.getProcessCpuTime() - processor) / 1e9;
        }

        @Override
        public String toString() {
            return String.format(Locale.ROOT, "%.1f s, processor %.1f s", clock_s(), processor_s());
        }
    }

    private static void print(String format, Object... values) {
        System.out.println(String.format(Locale.ROOT, format, values));
    }
}
