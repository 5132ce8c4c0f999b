package org.evenwash.logger.cli;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.agitation.AgitationPlan;
import org.evenwash.analysis.agitation.AgitationTime;
import org.evenwash.analysis.agitation.ConditionalFit;
import org.evenwash.analysis.agitation.ModelChoice;
import org.evenwash.analysis.agitation.ReleaseFit;
import org.evenwash.analysis.agitation.ReleaseModel;
import org.evenwash.analysis.agitation.TimeToShare;
import org.evenwash.analysis.agitation.TimedWash;
import org.evenwash.logger.chart.StudyCharts;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

@Command(
        name = "agitation-time",
        header = "How long to agitate; or a plan to find out.",
        description = {
            "How long to agitate until a share of the mites is off, from washes of several lengths",
            "whose bees were washed again; or, with --plan-around, which washes would tell."
        })
final class AgitationTimeCommand extends Analysis {
    private static final List<Column> COLUMNS =
            List.of(
                    Column.required(
                            "agitation_s", "agitation of the first wash in seconds, bouts added"),
                    RecoverySource.FIRST,
                    RecoverySource.SECOND,
                    Column.optional(
                            "second_wash_agitation_s",
                            "that of the second; needed with --same-method"));
    private static final double SHORTEST_S = 1e-3;
    private static final double LONGEST_S = 1e7;

    @Mixin private CsvInput input;

    @Option(
            names = "--share",
            paramLabel = "SHARE",
            defaultValue = "0.95",
            description = "Share of the mites to take off; ${DEFAULT-VALUE} unless given.")
    private Double share;

    @Option(
            names = "--same-method",
            description =
                    "The second wash was agitated in the same way and did not take off all that was"
                            + " left; without this it is taken to have done so.")
    private boolean sameMethod;

    @Option(
            names = "--plan-around",
            paramLabel = "SECONDS",
            description = "Plan washes around a guess of the time to 95 %%; reads no file.")
    private Double guess_s;

    @Option(
            names = "--mites-per-wash",
            paramLabel = "N",
            defaultValue = "20",
            description = "Mites expected in a wash, for a plan; ${DEFAULT-VALUE} unless given.")
    private Double mitesPerWash;

    @Override
    List<Column> columns() {
        return COLUMNS;
    }

    @Override
    List<String> examples() {
        return List.of(
                "agitation-time --plan-around 60",
                "agitation-time --example > agitation-time.csv",
                "agitation-time agitation-time.csv --chart agitation-time.png",
                "agitation-time agitation-time.csv --share 0.9 --json");
    }

    @Override
    Report report() {
        if (!(share > 0 && share < 1)) {
            throw wrong("--share: expected a share between 0 and 1, such as 0.95.");
        }
        if (input.given() == (guess_s != null)) {
            throw wrong("Give either a file of washes or --plan-around.");
        }
        Report report = new Report(name());
        if (guess_s != null) {
            plan(report);
            return report;
        }
        CsvTable table = input.table(columnsNeeded());
        List<TimedWash> washes = table.read(this::wash);
        report.json("input", table.facts());
        report.json("share", share);
        report.json("method", sameMethod ? "same method" : "exhaustive second wash");
        report.line("Washes", table.words());
        byTime(report, washes);
        if (sameMethod) {
            AgitationTime.SameMethodReport found = AgitationTime.sameMethod(washes, share);
            answer(report, found.result());
            found.fit().ifPresent(fit -> sameMethod(report, washes, fit, found.result()));
        } else {
            AgitationTime.Report found = AgitationTime.exhaustive(washes, share);
            answer(report, found.result());
            found.choice().ifPresent(choice -> exhaustive(report, washes, choice, found.result()));
        }
        return report;
    }

    private List<Column> columnsNeeded() {
        List<Column> columns = new ArrayList<>(COLUMNS);
        if (sameMethod) {
            Column last = columns.remove(columns.size() - 1);
            columns.add(Column.required(last.name(), last.holds()));
        }
        return columns;
    }

    private TimedWash wash(CsvRow row) {
        double agitation_s = seconds(row, "agitation_s");
        OptionalDouble second_s =
                sameMethod
                        ? OptionalDouble.of(seconds(row, "second_wash_agitation_s"))
                        : OptionalDouble.empty();
        return new TimedWash(
                agitation_s,
                row.count("first_wash_mites"),
                row.count("second_wash_mites"),
                second_s);
    }

    private static double seconds(CsvRow row, String column) {
        return row.between(column, SHORTEST_S, LONGEST_S, "seconds above 0");
    }

    private void byTime(Report report, List<TimedWash> washes) {
        TextTable table = new TextTable("agitation, s", "washes", "mites", "off in the first wash");
        for (double seconds :
                washes.stream().mapToDouble(TimedWash::agitationS).distinct().sorted().toArray()) {
            List<TimedWash> same = washes.stream().filter(w -> w.agitationS() == seconds).toList();
            double first = same.stream().mapToDouble(TimedWash::firstWashMites).sum();
            double all = same.stream().mapToDouble(TimedWash::mites).sum();
            table.row(
                    Decimals.plain(seconds),
                    String.valueOf(same.size()),
                    Decimals.plain(all),
                    all == 0 ? "" : Decimals.percent(first / all));
        }
        report.blank().table(table).blank();
    }

    private void answer(Report report, Result result) {
        String asked = Decimals.plain(100 * share) + " %";
        report.result(
                "time",
                sameMethod ? "Time to " + asked + " of the loose" : "Time to " + asked + " off",
                result,
                Quantity.AGITATION_TIME);
        report.answered(result);
    }

    private void exhaustive(
            Report report, List<TimedWash> washes, ModelChoice choice, Result answer) {
        List<Map<String, Object>> models = new ArrayList<>();
        boolean enough = !(answer instanceof Result.NotEnoughData);
        TextTable table = new TextTable("curve", "QAIC", "time, s", "95 % interval, s");
        for (ModelChoice.Candidate candidate : choice.candidates()) {
            ReleaseFit fit = candidate.fit();
            Map<String, Object> json = new LinkedHashMap<>();
            json.put("model", fit.model().name().toLowerCase(Locale.ROOT));
            json.put("chosen", fit == choice.chosen());
            json.put("qaic", candidate.qaic());
            json.put("deltaQaic", candidate.delta());
            if (enough) {
                fit.timeToShare().ifPresent(time -> json.put("time", time(time)));
            }
            models.add(json);
            table.row(
                    fit.model().words() + (fit == choice.chosen() ? " (used)" : ""),
                    Decimals.fixed(1, candidate.qaic()),
                    enough ? fit.timeToShare().map(t -> seconds(t.seconds())).orElse("") : "",
                    enough
                            ? fit.timeToShare()
                                    .map(t -> seconds(t.lower()) + "–" + seconds(t.upper()))
                                    .orElse("more agitation takes off no more")
                            : "not enough data");
        }
        report.json("models", models);
        report.json("dispersion", choice.phi());
        choice.lackOfFit().ifPresent(lack -> report.json("lackOfFitP", lack.p()));
        report.blank().table(table);
        report.chart(
                () ->
                        StudyCharts.agitation(
                                "Mites off against agitation time", washes, choice, answer));
    }

    private void sameMethod(
            Report report, List<TimedWash> washes, ConditionalFit fit, Result answer) {
        report.json("ratePerSecond", fit.k());
        report.json("dispersion", fit.quality().phi());
        if (!(answer instanceof Result.NotEnoughData)) {
            fit.unscaled().ifPresent(unscaled -> report.json("unscaledTime", time(unscaled)));
        }
        report.chart(
                () ->
                        StudyCharts.agitation(
                                "Mites off, of those that this method can take off",
                                washes,
                                fit,
                                answer));
    }

    private void plan(Report report) {
        if (!(guess_s >= 1 && guess_s <= 100_000)) {
            throw wrong("--plan-around: expected 1 to 100000 seconds.");
        }
        if (!(mitesPerWash >= 1 && mitesPerWash <= 1e6)) {
            throw wrong("--mites-per-wash: expected 1 to a million.");
        }
        List<Double> times = AgitationPlan.timesAround(guess_s);
        report.line(
                "Times to try, s", String.join(", ", times.stream().map(Decimals::plain).toList()));
        report.line("", "as many washes at each, in mixed order");
        report.json("guess_s", guess_s).json("mitesPerWash", mitesPerWash).json("times_s", times);
        var even = plan(0);
        var uneven = plan(0.05);
        TextTable table =
                new TextTable("washes", "half-width of the time, %", "with washes that differ, %");
        List<Map<String, Object>> json = new ArrayList<>();
        for (int washes : new int[] {12, 18, 24, 36, 48, 96}) {
            table.row(
                    String.valueOf(washes),
                    Decimals.fixed(0, 100 * even.halfWidth(washes)),
                    Decimals.fixed(0, 100 * uneven.halfWidth(washes)));
            Map<String, Object> row = new LinkedHashMap<>();
            row.put("washes", washes);
            row.put("halfWidth", even.halfWidth(washes));
            row.put("halfWidthIfWashesDiffer", uneven.halfWidth(washes));
            json.add(row);
        }
        report.json("plan", json);
        report.blank().table(table);
        report.remark(
                "Half-width: the time would be known to about plus or minus so many per cent, with a curve"
                        + " whose rate may change with time. Planning values; simulated half-widths agree"
                        + " within about a fifth.");
        report.remark(
                "Washes that differ: mites of one wash alike by a correlation of 0.05. Wash the same bees"
                        + " again until no mite comes off, for at least twice the time to 95 %.");
        report.noChart("a plan has no data to draw");
    }

    private AgitationPlan plan(double rho) {
        return new AgitationPlan(
                ReleaseModel.WEIBULL, AgitationPlan.RECOMMENDED_TIMES, mitesPerWash, rho);
    }

    private static Map<String, Object> time(TimeToShare time) {
        Map<String, Object> json = new LinkedHashMap<>();
        json.put("seconds", time.seconds());
        json.put("lower", time.lower());
        json.put("upper", time.upper());
        return json;
    }

    private static String seconds(double value) {
        return Double.isInfinite(value) ? "no limit" : Decimals.fixed(0, value);
    }
}
