package org.evenwash.controller.pi4j.bench;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Runs scenarios one after the other, prints a line for each and writes them all as JUnit XML. */
public final class Scenarios {
    /** A scenario: it ends, or it throws what it found. */
    @FunctionalInterface
    public interface Body {
        void run() throws Exception;
    }

    private record Verdict(String name, double seconds, String failure, String evidence) {}

    private final String suite;
    private final Path folder;
    private final List<Verdict> verdicts = new ArrayList<>();
    private final StringBuilder evidence = new StringBuilder();

    /**
     * @param folder where the file of verdicts goes; it is whole after each scenario, whatever comes next
     */
    public Scenarios(String suite, Path folder) {
        this.suite = suite;
        this.folder = folder;
    }

    /** Runs one; a failure does not keep the next from running. */
    public void run(String name, Body body) {
        long begun_ns = System.nanoTime();
        String failure = null;
        evidence.setLength(0);
        try {
            body.run();
        } catch (Exception | AssertionError | LinkageError e) {
            failure = trace(e);
        }
        double seconds = (System.nanoTime() - begun_ns) * 1e-9;
        verdicts.add(new Verdict(name, seconds, failure, evidence.toString()));
        System.out.printf(
                Locale.ROOT, "%s %s (%.1f s)%n", failure == null ? "ok" : "FAILED", name, seconds);
        if (failure != null) {
            System.out.println(
                    failure.lines()
                            .limit(12)
                            .reduce("", (all, line) -> all + "    " + line + "\n"));
        }
        try {
            write();
        } catch (IOException e) {
            throw new UncheckedIOException("cannot keep the verdict of " + name, e);
        }
    }

    /** Keeps a figure or a sentence beside the verdict of the scenario that is running. */
    public void note(String line) {
        evidence.append(line).append('\n');
        System.out.println("BENCH: " + line);
    }

    private static String trace(Throwable e) {
        var text = new java.io.StringWriter();
        e.printStackTrace(new java.io.PrintWriter(text));
        return text.toString();
    }

    private void write() throws IOException {
        long failures = verdicts.stream().filter(verdict -> verdict.failure != null).count();
        double seconds = verdicts.stream().mapToDouble(Verdict::seconds).sum();
        StringBuilder xml = new StringBuilder("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
        xml.append(
                String.format(
                        Locale.ROOT,
                        "<testsuite name=\"%s\" tests=\"%d\" failures=\"%d\" errors=\"0\" skipped=\"0\" time=\"%.3f\">%n",
                        suite,
                        verdicts.size(),
                        failures,
                        seconds));
        for (Verdict verdict : verdicts) {
            xml.append(
                    String.format(
                            Locale.ROOT,
                            "  <testcase classname=\"%s\" name=\"%s\" time=\"%.3f\">%n",
                            suite,
                            escape(verdict.name),
                            verdict.seconds));
            if (verdict.failure != null) {
                xml.append("    <failure>").append(escape(verdict.failure)).append("</failure>\n");
            }
            if (!verdict.evidence.isEmpty()) {
                xml.append("    <system-out>")
                        .append(escape(verdict.evidence))
                        .append("</system-out>\n");
            }
            xml.append("  </testcase>\n");
        }
        xml.append("</testsuite>\n");
        Files.createDirectories(folder);
        Files.writeString(folder.resolve("TEST-virtual-bench-" + suite + ".xml"), xml);
    }

    private static String escape(String text) {
        return text.replace("&", "&amp;")
                .replace("<", "&lt;")
                .replace(">", "&gt;")
                .replace("\"", "&quot;");
    }
}
