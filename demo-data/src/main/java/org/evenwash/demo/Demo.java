package org.evenwash.demo;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import io.javalin.util.JavalinBindException;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import java.util.stream.Stream;
import org.evenwash.controller.SimulatedController;
import org.evenwash.logger.Station;
import org.evenwash.logger.StationConfig;
import org.evenwash.logger.web.WebServer;
import org.evenwash.logger.web.WebSettings;
import org.slf4j.LoggerFactory;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Logger, broker and a simulated bench in one process, playing a day of washes. */
@Command(
        name = "evenwash-demo",
        mixinStandardHelpOptions = true,
        version = "evenwash-demo 0.1.0",
        description =
                "Plays a day of washes in an invented scenario through the real programs, then"
                        + " serves the logger's pages.")
public final class Demo implements Callable<Integer> {
    private static final int USUAL_PORT = 8080;

    @Option(names = "--once", description = "print the washes as a table, write once.csv, and end")
    private boolean once;

    @Option(names = "--port", description = "port of the pages; without it 8080 or a free one")
    private Integer port;

    @Option(
            names = "--speed",
            defaultValue = "500",
            description = "how many times faster than real the bench runs, 1 to 500 (default: 500)")
    private double speed;

    private final PrintStream out = new PrintStream(System.out, true, StandardCharsets.UTF_8);

    public static void main(String[] args) {
        int code = new CommandLine(new Demo()).execute(args);
        if (code != 0) {
            throw new IllegalStateException("the demo ended with code " + code);
        }
    }

    @Override
    public Integer call() throws Exception {
        if (!(speed >= 1 && speed <= 500)) {
            out.println("--speed is " + speed + ": choose 1 to 500");
            return 2;
        }
        // The story tells what happens; the programs speak up only when something is wrong.
        ((Logger) LoggerFactory.getLogger("org.evenwash")).setLevel(Level.WARN);
        Path target = Path.of(System.getProperty("evenwash.demo.folder", "demo-data/target"));
        Path folder = fresh(target.resolve("demo"));
        try (Station station =
                        Station.start(
                                StationConfig.inFolder(folder.resolve("logger"))
                                        .asDemonstration());
                WebServer pages = pages(station)) {
            out.println("Everything here is simulated. Data folder: " + folder);
            Api api = new Api(pages.address());
            Story story = new Story(api, Bench.ID, out::println);
            story.playPast();
            try (SimulatedController bench = Bench.start(station, folder.resolve("bench"), speed)) {
                List<WashRow> rows = play(api, story, new Hands(bench, speed));
                out.println();
                out.println(Report.table(rows));
                if (once) {
                    Path csv = target.resolve("once.csv");
                    Report.write(csv, rows);
                    out.println("Written to " + csv);
                    return 0;
                }
                out.println("The pages: " + pages.address() + "   (Ctrl-C ends the demo)");
                new CountDownLatch(1).await();
                return 0;
            }
        }
    }

    private List<WashRow> play(Api api, Story story, Hands hands) {
        int[] done = new int[1];
        List<WashRow> rows =
                story.play(
                        hands,
                        row -> {
                            out.println("  " + row.per100Text() + " mites per 100 bees.");
                            out.println(bar(++done[0], Scenario.WASHES.size()));
                        });
        new CalibrationStory(api, story, out::println).play();
        return rows;
    }

    /** A line of its own each time: the story goes on beneath it. */
    private static String bar(int done, int all) {
        int filled = 30 * done / all;
        return "[%s%s] %d of %d washes"
                .formatted("=".repeat(filled), " ".repeat(30 - filled), done, all);
    }

    private WebServer pages(Station station) {
        boolean free = port == null;
        try {
            return pagesOn(station, free ? USUAL_PORT : port);
        } catch (JavalinBindException e) {
            if (free) {
                out.println("Port " + USUAL_PORT + " is busy: taking a free one.");
                return pagesOn(station, 0);
            }
            throw new IllegalStateException(
                    "port " + port + " is busy: choose another with --port, or leave it out", e);
        }
    }

    private static WebServer pagesOn(Station station, int port) {
        return WebServer.start(station, WebSettings.loopback(port));
    }

    /** Each run begins with an empty folder of its own. */
    private static Path fresh(Path folder) throws IOException {
        if (Files.exists(folder)) {
            try (Stream<Path> all = Files.walk(folder)) {
                for (Path path : all.sorted(Comparator.reverseOrder()).toList()) {
                    Files.delete(path);
                }
            }
        }
        return Files.createDirectories(folder).toAbsolutePath();
    }
}
