package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.operators.ChartReading;
import org.evenwash.logger.chart.Drawing;
import org.evenwash.logger.chart.StudyCharts;
import org.evenwash.logger.store.CatchCount;
import org.evenwash.logger.store.RunRecords;
import org.evenwash.logger.store.SampleBees;
import org.evenwash.logger.wash.Consistency;
import org.evenwash.logger.wash.CycleTiming;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.Outcome;

/** {@code /consistency/counting}, {@code …/samples} and {@code …/cycles}: runs of the everyday work. */
public final class RunPages {
    private static final int ROWS = 40;

    private final FrontDesk desk;
    private final Workplace place;
    private final PagePictures<Painted> pictures = new PagePictures<>();

    /** What a picture shows. */
    private record Painted(String title, String unit, ChartReading reading) {}

    RunPages(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /**
     * A run as a chart.
     *
     * @param picture SVG text, null where there are too few points for limits
     * @param signals points outside the limits, of those that may be judged
     */
    public record Run(String picture, long signals, boolean ready, List<String> remarks) {}

    private Run run(ChartReading reading, String title, String unit, Shell page) {
        return new Run(
                pictures.svg(new Painted(title, unit, reading), RunPages::painted),
                reading.points().stream().filter(ChartReading.Point::signals).count(),
                reading.stage() == ChartReading.Stage.READY,
                reading.remarks().stream().map(page.formats()::decimals).toList());
    }

    private static Optional<Drawing> painted(Painted asked) {
        return StudyCharts.individuals(asked.title(), asked.unit(), asked.reading());
    }

    /**
     * Counting.
     *
     * @param crossed standard deviation of all counting; null unless everybody counted every catch
     */
    public record CountingView(
            Consistency.Counting counting,
            ResultLine repeatability,
            ResultLine reproducibility,
            ResultLine crossed,
            Run run,
            List<CatchCount> shown,
            StudyForm form) {}

    void counting(Context ctx) {
        StudyForm form = form(ctx);
        Shell page = desk.shell(ctx, desk.texts(ctx).say("counting.title"), "consistency");
        Consistency.Counting counting = place.consistency().counting(form.filter());
        desk.show(
                ctx,
                "counting",
                page,
                new CountingView(
                        counting,
                        ResultLine.of(counting.study().repeatability(), Quantity.PLAIN, page),
                        ResultLine.of(counting.study().reproducibility(), Quantity.PLAIN, page),
                        counting.crossed().gauge() instanceof Result.Estimate gauge
                                ? ResultLine.of(gauge, Quantity.PLAIN, page)
                                : null,
                        run(
                                counting.reading(),
                                page.t("counting.chart"),
                                page.t("counting.chart.unit"),
                                page),
                        counting.counts().stream().limit(ROWS).toList(),
                        form));
    }

    /** Bees in samples. */
    public record SamplesView(
            Consistency.Samples samples,
            Run run,
            List<SampleBees> shown,
            StudyForm form,
            StudyChoices choices) {}

    void samples(Context ctx) {
        StudyForm form = form(ctx);
        Shell page = desk.shell(ctx, desk.texts(ctx).say("samples.title"), "consistency");
        Consistency.Samples samples = place.consistency().samples(form.filter());
        desk.show(
                ctx,
                "samples",
                page,
                new SamplesView(
                        samples,
                        run(
                                samples.counted(),
                                page.t("samples.chart"),
                                page.t("samples.chart.unit"),
                                page),
                        samples.samples().stream().limit(ROWS).toList(),
                        form,
                        StudyChoices.of(place, page)));
    }

    /** Timing of cycles. */
    public record CyclesView(
            CycleTiming timing,
            Run run,
            List<Counted> outcomes,
            List<RunRecords.Timing> shown,
            String benchId,
            List<Option> benches) {}

    /** How many cycles ended so. */
    public record Counted(Outcome outcome, long cycles) {}

    void cycles(Context ctx) {
        Input in = Input.ofQuery(ctx, desk.texts(ctx));
        String bench = in.optionalText("benchId", 32);
        in.check();
        Shell page = desk.shell(ctx, desk.texts(ctx).say("timing.title"), "consistency");
        CycleTiming timing = place.consistency().cycles(bench);
        desk.show(
                ctx,
                "cycleTiming",
                page,
                new CyclesView(
                        timing,
                        run(
                                timing.difference(),
                                page.t("timing.chart"),
                                page.t("timing.chart.unit"),
                                page),
                        List.of(Outcome.values()).stream()
                                .map(one -> new Counted(one, timing.count(one)))
                                .toList(),
                        timing.cycles().stream().limit(ROWS).toList(),
                        bench == null ? "" : bench,
                        new Options(place, page.texts(), page.formats()).benches()));
    }

    private StudyForm form(Context ctx) {
        Input in = Input.ofQuery(ctx, desk.texts(ctx));
        StudyForm form = StudyForm.read(in);
        in.check();
        return form;
    }
}
