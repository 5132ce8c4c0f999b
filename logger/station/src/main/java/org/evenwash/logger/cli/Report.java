package org.evenwash.logger.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Supplier;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultJson;
import org.evenwash.analysis.ResultText;
import org.evenwash.logger.chart.Drawing;
import org.evenwash.logger.chart.Picture;

/**
 * What a command found, for people and for programs at once: each result is put in a single time and
 * comes out in both, so that the two cannot differ.
 */
final class Report {

    /** Puts a chart into a file. */
    interface ChartFile {
        void write(Path file);
    }

    private final List<String> lines = new ArrayList<>();
    private final Set<String> remarks = new LinkedHashSet<>();
    private final Map<String, Object> json = new LinkedHashMap<>();
    private boolean enoughData = true;
    private ChartFile chart;
    private String noChart = "there is nothing to draw";

    Report(String command) {
        json.put("command", command);
        json.put("schema", "urn:evenwash:analysis:" + command + ":1");
    }

    /** A line for people. */
    Report line(String text) {
        lines.addAll(Wrapped.lines("", text));
        return this;
    }

    Report blank() {
        lines.add("");
        return this;
    }

    /** A line that begins with a label, set over the others of its block. */
    Report line(String label, String text) {
        lines.addAll(Wrapped.lines(String.format("%-26s", label), text));
        return this;
    }

    /** A result, for people under its label and for programs under its key. */
    Report result(String key, String label, Result result, Quantity quantity) {
        json.put(key, ResultJson.of(result, quantity));
        line(label, ResultText.of(result, quantity));
        return remarks(result);
    }

    Report table(TextTable table) {
        lines.addAll(table.lines());
        return this;
    }

    /** A value for programs only: a table or a line says it to people. */
    Report json(String key, Object value) {
        json.put(key, value);
        return this;
    }

    Report remarks(Result result) {
        remarks.addAll(result.remarks());
        return this;
    }

    Report remark(String sentence) {
        remarks.add(sentence);
        return this;
    }

    /** The command's own question was not answered. */
    Report answered(Result main) {
        enoughData = !(main instanceof Result.NotEnoughData);
        return this;
    }

    Report enoughData(boolean enough) {
        enoughData = enough;
        return this;
    }

    /** Drawn only if a chart is asked for: the drawing library takes a while to load. */
    Report chart(Supplier<Drawing> drawing) {
        chart = file -> drawing.get().write(file);
        return this;
    }

    /** As {@link #chart}, for a picture of our own. */
    Report picture(Supplier<Picture> picture) {
        chart = file -> Drawing.write(picture.get(), file);
        return this;
    }

    /** Why there is no chart: the end of the sentence "No chart was drawn: ". */
    Report noChart(String why) {
        noChart = why;
        return this;
    }

    boolean writeChart(Path file) {
        if (chart != null) {
            chart.write(file);
        }
        return chart != null;
    }

    String whyNoChart() {
        return noChart;
    }

    int exitCode() {
        return enoughData ? ExitCode.RESULT : ExitCode.NOT_ENOUGH_DATA;
    }

    String text() {
        StringBuilder text = new StringBuilder();
        lines.forEach(line -> text.append(line).append('\n'));
        if (!remarks.isEmpty()) {
            text.append('\n');
            for (String remark : remarks) {
                Wrapped.lines("* ", remark).forEach(line -> text.append(line).append('\n'));
            }
        }
        return text.toString();
    }

    String json() {
        Map<String, Object> document = new LinkedHashMap<>(json);
        document.put("remarks", List.copyOf(remarks));
        document.put("enoughData", enoughData);
        return Json.text(document);
    }
}
