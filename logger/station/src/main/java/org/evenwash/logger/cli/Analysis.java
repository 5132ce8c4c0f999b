package org.evenwash.logger.cli;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** What every analysis has in common: how it prints, draws and ends. It needs no database. */
abstract class Analysis implements Callable<Integer> {
    /** Wide enough for every example to stand on one line. */
    private static final int HELP_WIDTH = 100;

    @Spec CommandSpec spec;

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Show this help.")
    boolean help;

    @Option(names = "--json", description = "Print JSON with every digit instead of a table.")
    private boolean json;

    @Option(names = "--json-schema", description = "Print the JSON Schema of --json and end.")
    private boolean jsonSchema;

    @Option(names = "--example", description = "Print an example file (invented data) and end.")
    private boolean example;

    @Option(
            names = "--chart",
            paramLabel = "FILE",
            description = "Draw the data and the interval into FILE, .svg or .png.")
    private Path chart;

    abstract Report report();

    /** What the command reads from a file; none if it reads none. */
    List<Column> columns() {
        return List.of();
    }

    /** Command lines to try, without the name of the program; a test runs each of them. */
    abstract List<String> examples();

    final String name() {
        return spec.name();
    }

    /** Puts what the annotations cannot know into the help. */
    final void describe() {
        StringBuilder footer = new StringBuilder();
        if (!columns().isEmpty()) {
            footer.append(
                    "\nColumns of the CSV file (UTF-8, first row the names, decimal point):\n");
            columns().forEach(column -> footer.append(column.help()).append('\n'));
        }
        footer.append("\nExamples, in the invented apiary Quillmoor:\n");
        examples().forEach(line -> footer.append("  evenwash-logger ").append(line).append('\n'));
        spec.usageMessage().width(HELP_WIDTH);
        // A per cent sign would be taken for a format.
        spec.usageMessage().footer(footer.toString().replace("%", "%%").split("\n", -1));
    }

    @Override
    public final Integer call() {
        PrintWriter out = spec.commandLine().getOut();
        if (jsonSchema) {
            out.print(resource("schema/" + name() + ".json"));
            return done(out, ExitCode.RESULT);
        }
        if (example) {
            if (columns().isEmpty()) {
                throw new BadInput(name() + " reads no file; see --help for an example.");
            }
            out.print(resource("example/" + name() + ".csv"));
            return done(out, ExitCode.RESULT);
        }
        refuseOtherPictures();
        Report report = Progress.shown(this::reportOrRefusal);
        if (chart != null) {
            writeChart(report);
        }
        out.print(json ? report.json() : report.text());
        return done(out, report.exitCode());
    }

    private Report reportOrRefusal() {
        try {
            return report();
        } catch (IllegalArgumentException outOfRange) {
            // The analysis names the value and its range; its options come from a person.
            throw new BadInput(outOfRange.getMessage(), outOfRange);
        }
    }

    private void refuseOtherPictures() {
        String file = chart == null ? ".svg" : chart.toString().toLowerCase(Locale.ROOT);
        if (!file.endsWith(".svg") && !file.endsWith(".png")) {
            throw wrong("--chart: a chart file ends in .svg or .png, not \"" + chart + "\".");
        }
    }

    private void writeChart(Report report) {
        try {
            if (!report.writeChart(chart)) {
                PrintWriter err = spec.commandLine().getErr();
                err.println("No chart was drawn: " + report.whyNoChart() + ".");
                err.flush();
            }
        } catch (UncheckedIOException unwritable) {
            throw new BadInput(
                    "The chart "
                            + chart
                            + " cannot be written: check that its folder is there and yours to write"
                            + " in.",
                    unwritable);
        }
    }

    /** Options that do not go together, or are missing. */
    final ParameterException wrong(String message) {
        return new ParameterException(spec.commandLine(), message);
    }

    private static int done(PrintWriter out, int exitCode) {
        out.flush();
        return exitCode;
    }

    private static String resource(String name) {
        try (InputStream stream = Analysis.class.getResourceAsStream(name)) {
            return new String(stream.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException unreadable) {
            throw new UncheckedIOException("cannot read the shipped file " + name, unreadable);
        }
    }
}
