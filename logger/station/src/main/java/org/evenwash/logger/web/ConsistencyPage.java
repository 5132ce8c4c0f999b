package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.operators.Compared;
import org.evenwash.analysis.operators.Funnel;
import org.evenwash.analysis.operators.OperatorComparison;
import org.evenwash.logger.chart.StudyCharts;
import org.evenwash.logger.wash.Consistency;
import org.evenwash.logger.wash.Workplace;

/** {@code /consistency}: does the first wash bring off the same share, whoever, wherever, whenever? */
public final class ConsistencyPage {
    private final FrontDesk desk;
    private final Workplace place;
    private final PagePictures<Painted> pictures = new PagePictures<>();

    /** What a picture shows. */
    private record Painted(String title, OperatorComparison found) {}

    ConsistencyPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /**
     * One of those compared.
     *
     * @param limits between which chance alone puts 19 of 20, per cent
     */
    public record Row(
            String label, int washes, double mites, double percent, String limits, String where) {}

    /**
     * @param tone class of the state colour of the verdict
     * @param needs null where there is a verdict
     * @param spread standard deviation between them, in percentage points
     * @param test how the verdict was reached, null without one
     * @param picture SVG text, null where there is nothing to draw
     */
    public record View(
            StudyForm form,
            StudyChoices choices,
            Compared compared,
            List<Option> groupings,
            Consistency.Comparison comparison,
            String tone,
            String shape,
            String verdict,
            String needs,
            ResultLine spread,
            String test,
            List<String> remarks,
            List<Row> rows,
            String picture) {}

    void show(Context ctx) {
        Input in = Input.ofQuery(ctx, desk.texts(ctx));
        StudyForm form = StudyForm.read(in);
        Compared compared = in.choiceOr("compare", Compared.OPERATORS);
        in.check();
        Shell page = desk.shell(ctx, desk.texts(ctx).say("consistency.title"), "consistency");
        Consistency.Comparison comparison = place.consistency().recovery(form.filter(), compared);
        OperatorComparison found = comparison.found();
        Options options = new Options(place, page.texts(), page.formats());
        desk.show(
                ctx,
                "consistency",
                page,
                new View(
                        form,
                        StudyChoices.of(place, page),
                        compared,
                        options.each(Compared.class),
                        comparison,
                        tone(found.verdict()),
                        shape(found.verdict()),
                        page.texts().say(found.verdict()),
                        found.needs().map(Result.NotEnoughData::needs).orElse(null),
                        spread(found.spread(), page),
                        test(comparison, page),
                        found.remarks().stream().map(page.formats()::decimals).toList(),
                        rows(found, page),
                        picture(
                                page.t(
                                        found.adjusted()
                                                ? "consistency.chart.adjusted"
                                                : "consistency.chart",
                                        words(compared, page)),
                                found)));
    }

    private String picture(String title, OperatorComparison found) {
        return pictures.svg(
                new Painted(title, found),
                asked -> StudyCharts.funnel(asked.title(), asked.found()));
    }

    private static String words(Compared compared, Shell page) {
        return page.texts().say(compared).toLowerCase(Locale.ROOT);
    }

    private static String tone(OperatorComparison.Verdict verdict) {
        return switch (verdict) {
            case DIFFERENCE -> "abnormal";
            case NO_DIFFERENCE_SEEN -> "normal";
            case NOT_ENOUGH_DATA -> "neutral";
        };
    }

    private static String shape(OperatorComparison.Verdict verdict) {
        return switch (verdict) {
            case DIFFERENCE -> "◐";
            case NO_DIFFERENCE_SEEN -> "●";
            case NOT_ENOUGH_DATA -> "○";
        };
    }

    /** The analysis gives a share; people read percentage points. */
    private static ResultLine spread(Result spread, Shell page) {
        Formats formats = page.formats();
        if (spread instanceof Result.Estimate one) {
            return new ResultLine(
                    formats.number(100 * one.value(), 1),
                    page.t("consistency.points"),
                    page.t(
                            "consistency.interval",
                            formats.number(100 * one.lower(), 1),
                            formats.number(100 * one.upper(), 1)),
                    one.remarks());
        }
        if (spread instanceof Result.Bound bound) {
            return new ResultLine(
                    null,
                    "",
                    page.t("consistency.atMost", formats.number(100 * bound.limit(), 1)),
                    bound.remarks());
        }
        Result.NotEnoughData none = (Result.NotEnoughData) spread;
        return new ResultLine(null, "", page.t("study.needs", none.needs()), none.remarks());
    }

    private static String test(Consistency.Comparison comparison, Shell page) {
        return comparison
                .found()
                .test()
                .map(
                        test ->
                                page.t(
                                        "consistency.test",
                                        test.washes(),
                                        test.strata(),
                                        test.deals(),
                                        String.valueOf(comparison.seed())))
                .orElse(null);
    }

    private static List<Row> rows(OperatorComparison found, Shell page) {
        List<Row> rows = new ArrayList<>();
        for (Funnel.Point point : found.funnel()) {
            rows.add(
                    new Row(
                            point.operator(),
                            point.washes(),
                            point.mites(),
                            100 * point.share(),
                            page.formats().number(100 * point.inner().lower(), 0)
                                    + "–"
                                    + page.formats().number(100 * point.inner().upper(), 0),
                            page.texts().say(point.place())));
        }
        return rows;
    }
}
