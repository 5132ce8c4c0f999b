package org.evenwash.demo;

import static java.util.stream.Collectors.joining;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.w3c.dom.Document;
import org.xml.sax.SAXException;

/**
 * Puts what the benchmarks of all modules have printed into one file, with the machine it was measured on. It is taken from the
 * test reports, so that a benchmark has only to print; which tests are benchmarks, their sources say.
 */
final class BenchmarkReport {
    private static final Path ROOT = Path.of("..");
    private static final Path FILE = ROOT.resolve("target/benchmarks.md");
    private static final List<String> MODULES =
            List.of("controller/firmware", "logger/analysis", "logger/station", "demo-data");
    private static final String TAG = "@Tag(\"benchmark\")";

    private BenchmarkReport() {}

    /**
     * @param last the benchmark that is just running, and has no report yet
     * @param lines that it printed
     */
    static Path write(Class<?> last, List<String> lines) throws IOException {
        List<String> report = new ArrayList<>(machine());
        for (String module : MODULES) {
            for (String benchmark : benchmarks(ROOT.resolve(module))) {
                report.add("");
                if (benchmark.equals(last.getName())) {
                    report.add("## " + last.getSimpleName() + ", just now");
                    report.addAll(asMarkdown(lines));
                } else {
                    report.addAll(section(ROOT.resolve(module), benchmark));
                }
            }
        }
        Files.createDirectories(FILE.getParent());
        return Files.write(FILE, report).normalize();
    }

    private static List<String> machine() throws IOException {
        return List.of(
                "# Benchmarks of Evenwash " + version(),
                "",
                "%s, %d processors (%s), %s MB of memory, %s %s, Java %s; load %s when this was written."
                        .formatted(
                                Instant.now().truncatedTo(ChronoUnit.SECONDS),
                                Runtime.getRuntime().availableProcessors(),
                                field("/proc/cpuinfo", "model name").orElse("model unknown"),
                                field("/proc/meminfo", "MemTotal")
                                        .map(kB -> kB.replaceAll("\\D", ""))
                                        .map(kB -> Long.toString(Long.parseLong(kB) / 1_024))
                                        .orElse("unknown"),
                                System.getProperty("os.name"),
                                System.getProperty("os.version"),
                                System.getProperty("java.version"),
                                Files.readString(Path.of("/proc/loadavg")).strip()),
                "A figure is worth something only beside its yardstick, taken in the same minute on the same machine.");
    }

    private static String version() {
        Program program = Shipped.CONTROLLER.start("--version");
        return program.await("evenwash-controller").replaceAll(".* ", "");
    }

    private static Optional<String> field(String file, String name) throws IOException {
        return Files.readAllLines(Path.of(file)).stream()
                .filter(line -> line.startsWith(name))
                .map(line -> line.substring(line.indexOf(':') + 1).strip())
                .findFirst();
    }

    /** Names of its test classes with the tag. */
    private static List<String> benchmarks(Path module) throws IOException {
        Path sources = module.resolve("src/test/java");
        try (Stream<Path> files = Files.walk(sources)) {
            return files.filter(file -> file.toString().endsWith(".java"))
                    .filter(BenchmarkReport::isTagged)
                    .map(file -> sources.relativize(file).toString())
                    .map(name -> name.replace('/', '.').replaceAll("\\.java$", ""))
                    .sorted()
                    .toList();
        }
    }

    private static boolean isTagged(Path source) {
        try (Stream<String> lines = Files.lines(source)) {
            return lines.anyMatch(TAG::equals);
        } catch (IOException e) {
            throw new UncheckedIOException("cannot read " + source, e);
        }
    }

    private static List<String> section(Path module, String benchmark) throws IOException {
        String name = benchmark.substring(benchmark.lastIndexOf('.') + 1);
        String folder = benchmark.endsWith("IT") ? "failsafe-reports" : "surefire-reports";
        Path file = module.resolve("target/" + folder + "/TEST-" + benchmark + ".xml");
        if (!Files.isRegularFile(file)) {
            return List.of("## " + name + ": not run");
        }
        List<String> section = new ArrayList<>();
        Instant at = Files.getLastModifiedTime(file).toInstant().truncatedTo(ChronoUnit.SECONDS);
        section.add("## %s, %s".formatted(name, at));
        Document report = read(file);
        for (String failed : List.of("failure", "error")) {
            for (String what : texts(report, failed)) {
                section.add("");
                section.add("**Failed:** " + what.lines().limit(6).collect(joining(" ")));
            }
        }
        section.addAll(
                asMarkdown(texts(report, "system-out").stream().flatMap(String::lines).toList()));
        return section;
    }

    private static List<String> texts(Document report, String element) {
        var found = report.getElementsByTagName(element);
        return IntStream.range(0, found.getLength())
                .mapToObj(i -> found.item(i).getTextContent().strip())
                .toList();
    }

    private static Document read(Path report) throws IOException {
        try (InputStream xml = Files.newInputStream(report)) {
            return DocumentBuilderFactory.newDefaultInstance().newDocumentBuilder().parse(xml);
        } catch (ParserConfigurationException | SAXException e) {
            throw new IOException(report + " is no test report", e);
        }
    }

    /** Tables and headings stay what they are, the rest keeps its columns. */
    private static List<String> asMarkdown(List<String> printed) {
        List<String> lines = new ArrayList<>();
        boolean fenced = false;
        for (String line : printed) {
            boolean markdown = line.startsWith("|") || line.startsWith("#");
            if (markdown == fenced) {
                lines.add(fenced ? "```" : "");
                if (!fenced) {
                    lines.add("```text");
                } else if (line.startsWith("|")) {
                    lines.add("");
                }
                fenced = !fenced;
            }
            lines.add(line.startsWith("#") ? "\n" + line + "\n" : line);
        }
        if (fenced) {
            lines.add("```");
        }
        return lines;
    }
}
