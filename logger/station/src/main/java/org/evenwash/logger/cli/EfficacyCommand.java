package org.evenwash.logger.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.efficacy.BeforeAfter;
import org.evenwash.analysis.efficacy.Efficacy;
import org.evenwash.analysis.efficacy.Wash;
import org.evenwash.logger.chart.IntervalRows;
import org.evenwash.logger.chart.Picture;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

@Command(
        name = "efficacy",
        header = "How far a treatment reduced the mites.",
        description = {
            "How far a treatment reduced the infestation, per cent: beside an untreated control",
            "(Henderson and Tilton), by groups of colonies, or without a control."
        })
final class EfficacyCommand extends Analysis {
    private static final List<Column> COLUMNS =
            List.of(
                    Column.required("group", "treated or control; one row a colony"),
                    Column.required("before_mites", "mites before the treatment"),
                    Column.required("before_bees", "bees of that sample"),
                    Column.required("after_mites", "mites after it"),
                    Column.required("after_bees", "bees of that sample"),
                    Column.optional("colony", "name of the colony; the line number without"));

    /** A chart shows losses of up to everything, and gains of up to double. */
    private static final double CHART_START = -100;

    @Mixin private CsvInput input;

    @ArgGroup(exclusive = false, heading = "One treated colony or pooled group:%n")
    private Treated treated = new Treated();

    @ArgGroup(exclusive = false, heading = "Its untreated control:%n")
    private Control control = new Control();

    static final class Treated {
        @Option(
                names = "--before-mites",
                paramLabel = "N",
                description = "Mites before; leave out both for Abbott.")
        private Integer beforeMites;

        @Option(names = "--before-bees", paramLabel = "N", description = "Bees before.")
        private Double beforeBees;

        @Option(names = "--after-mites", paramLabel = "N", description = "Mites after.")
        private Integer afterMites;

        @Option(names = "--after-bees", paramLabel = "N", description = "Bees after.")
        private Double afterBees;
    }

    static final class Control {
        @Option(names = "--control-before-mites", paramLabel = "N", description = "Mites before.")
        private Integer beforeMites;

        @Option(names = "--control-before-bees", paramLabel = "N", description = "Bees before.")
        private Double beforeBees;

        @Option(names = "--control-after-mites", paramLabel = "N", description = "Mites after.")
        private Integer afterMites;

        @Option(names = "--control-after-bees", paramLabel = "N", description = "Bees after.")
        private Double afterBees;
    }

    private record Row(String colony, boolean treated, BeforeAfter counts) {}

    @Override
    List<Column> columns() {
        return COLUMNS;
    }

    @Override
    List<String> examples() {
        return List.of(
                "efficacy --before-mites 24 --before-bees 310 --after-mites 2 --after-bees 298",
                "efficacy --example > efficacy.csv",
                "efficacy efficacy.csv --chart efficacy.png");
    }

    @Override
    Report report() {
        Report report = new Report(name());
        Result result = input.given() ? fromFile(report) : fromOptions(report);
        report.answered(result);
        return report;
    }

    private Result fromFile(Report report) {
        if (given(
                treated.beforeMites, treated.afterMites, control.beforeMites, control.afterMites)) {
            throw wrong("Give either a file or the counts as options, not both.");
        }
        CsvTable table = input.table(COLUMNS);
        List<Row> rows = table.read(EfficacyCommand::row);
        List<BeforeAfter> treatedOnes = group(rows, true);
        List<BeforeAfter> controls = group(rows, false);
        if (treatedOnes.isEmpty()) {
            throw new BadInput(
                    "No row has \"treated\" in the column "
                            + table.heading("group")
                            + "; nothing to judge.");
        }
        report.json("input", table.facts());
        report.json("treatedColonies", treatedOnes.size()).json("controlColonies", controls.size());
        report.line("Colonies", table.words());
        report.line("", treatedOnes.size() + " treated, " + controls.size() + " untreated");
        String method;
        Result result;
        if (treatedOnes.size() == 1) {
            method =
                    controls.isEmpty()
                            ? "one colony, no control"
                            : controls.size() == 1
                                    ? "Henderson-Tilton, one pair"
                                    : "Henderson-Tilton, one colony beside several";
            result = Efficacy.withControls(treatedOnes.get(0), controls);
        } else {
            method =
                    controls.isEmpty()
                            ? "group of colonies, no control"
                            : "Henderson-Tilton, groups";
            result =
                    controls.isEmpty()
                            ? Efficacy.ofGroupWithoutControl(treatedOnes)
                            : Efficacy.ofGroups(treatedOnes, controls);
        }
        answer(report, method, result);
        draw(report, rows, result);
        return result;
    }

    private static Row row(CsvRow row) {
        String group = row.text("group");
        if (!group.equals("treated") && !group.equals("control")) {
            row.wrong("group", "treated or control");
        }
        return new Row(
                row.has("colony") ? row.text("colony") : "line " + row.line(),
                group.equals("treated"),
                new BeforeAfter(
                        new Wash(row.count("before_mites"), row.positive("before_bees")),
                        new Wash(row.count("after_mites"), row.positive("after_bees"))));
    }

    private static List<BeforeAfter> group(List<Row> rows, boolean treated) {
        return rows.stream().filter(r -> r.treated() == treated).map(Row::counts).toList();
    }

    private Result fromOptions(Report report) {
        Optional<Wash> before = wash("--before", treated.beforeMites, treated.beforeBees);
        Optional<Wash> after = wash("--after", treated.afterMites, treated.afterBees);
        Optional<Wash> controlBefore =
                wash("--control-before", control.beforeMites, control.beforeBees);
        Optional<Wash> controlAfter =
                wash("--control-after", control.afterMites, control.afterBees);
        if (after.isEmpty()) {
            throw wrong("Give a file, or at least --after-mites and --after-bees.");
        }
        String method;
        Result result;
        if (before.isPresent() && controlBefore.isPresent() && controlAfter.isPresent()) {
            method = "Henderson-Tilton, one pair";
            result =
                    Efficacy.withControl(
                            new BeforeAfter(before.get(), after.get()),
                            new BeforeAfter(controlBefore.get(), controlAfter.get()));
        } else if (before.isPresent() && controlBefore.isEmpty() && controlAfter.isEmpty()) {
            method = "one colony, no control";
            result = Efficacy.withoutControl(new BeforeAfter(before.get(), after.get()));
        } else if (before.isEmpty() && controlBefore.isEmpty() && controlAfter.isPresent()) {
            method = "Abbott, against an untreated control";
            result = Efficacy.againstControl(controlAfter.get(), after.get());
        } else {
            throw wrong(
                    "Give before and after; or before and after of both treated and control; or only"
                            + " --after- and --control-after- (Abbott).");
        }
        answer(report, method, result);
        if (result instanceof Result.NotEnoughData) {
            report.noChart("there is no interval");
        } else {
            report.picture(() -> chart(List.of(new IntervalRows.Row("treatment", result))));
        }
        return result;
    }

    private Optional<Wash> wash(String option, Integer mites, Double bees) {
        if ((mites == null) != (bees == null)) {
            throw wrong(option + "-mites and " + option + "-bees belong together.");
        }
        return mites == null ? Optional.empty() : Optional.of(new Wash(mites, bees));
    }

    private static boolean given(Object... options) {
        return Stream.of(options).anyMatch(o -> o != null);
    }

    private static void answer(Report report, String method, Result result) {
        report.json("method", method);
        report.line("Method", method);
        report.result("efficacy", "Efficacy", result, Quantity.EFFICACY);
        report.remark(
                "Recovery cancels only if the washes before and after were made in the same way.");
    }

    private static void draw(Report report, List<Row> rows, Result all) {
        List<IntervalRows.Row> shown = new ArrayList<>();
        for (Row row : rows) {
            shown.add(
                    new IntervalRows.Row(
                            row.colony() + (row.treated() ? "" : " (control)"),
                            Efficacy.withoutControl(row.counts())));
        }
        if (shown.size() >= IntervalRows.MOST_ROWS) {
            report.noChart("a chart holds " + (IntervalRows.MOST_ROWS - 1) + " colonies");
            return;
        }
        shown.add(new IntervalRows.Row("efficacy", all, true));
        report.picture(() -> chart(shown));
    }

    private static Picture chart(List<IntervalRows.Row> rows) {
        return IntervalRows.between(
                "Fewer mites per 100 bees than before, with 95 % intervals",
                rows, Quantity.EFFICACY, CHART_START, 100);
    }
}
