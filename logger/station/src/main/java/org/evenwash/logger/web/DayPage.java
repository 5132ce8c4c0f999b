package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.chart.IntervalBar;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.DayPlan;
import org.evenwash.logger.store.DayPlans;
import org.evenwash.logger.wash.Claim;
import org.evenwash.logger.wash.DayPlanner;
import org.evenwash.logger.wash.Infestations;
import org.evenwash.logger.wash.Workplace;

/** {@code /days}: days of work; {@code /days/new}: one to plan; {@code /days/{id}}: its work list. */
public final class DayPage {
    private static final int LISTED = 20;
    private static final int USUAL_DRAW = 8;

    private final FrontDesk desk;
    private final Workplace place;

    DayPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /** A day in the list of days. */
    public record Line(DayPlan plan, String apiary, long counted, int all) {}

    public record Overview(List<Line> days, List<Option> apiaries) {}

    /**
     * @param colonies that live in the apiary
     * @param howMany offered to draw
     */
    public record Planning(
            Apiary apiary,
            List<Colony> colonies,
            List<Claim.Wanted> wanted,
            int howMany,
            int seed,
            String today,
            List<Option> operators) {}

    /**
     * @param stage in words
     * @param reading null until counted
     */
    public record Row(
            DayPlans.Step step, String tone, String shape, String stage, Reading reading) {}

    /**
     * @param claim null where the colonies were chosen
     * @param waiting washes that no bench has had yet
     * @param next the colony whose ticket goes out next, null when none waits
     */
    public record View(
            DayPlan plan,
            Apiary apiary,
            List<Row> rows,
            Claim claim,
            long waiting,
            String next,
            String recipe,
            List<Option> benches,
            List<Option> recipes,
            List<Option> spirits) {
        public String onlyBench() {
            return Options.only(benches);
        }
    }

    void list(Context ctx) {
        Shell page = desk.shell(ctx, desk.texts(ctx).say("day.title"), "plan");
        List<Line> days = place.days().latest(LISTED).stream().map(this::line).toList();
        Options options = new Options(place, page.texts(), page.formats());
        desk.show(ctx, "days", page, new Overview(days, options.apiaries()));
    }

    private Line line(DayPlan plan) {
        List<DayPlans.Step> steps = place.days().steps(plan.id());
        return new Line(
                plan,
                place.yard().apiary(plan.apiaryId()).name(),
                steps.stream().filter(DayPlans.Step::counted).count(),
                steps.size());
    }

    void planning(Context ctx) {
        UUID apiaryId = new Query(ctx, desk.texts(ctx)).id("apiaryId");
        if (apiaryId == null) {
            ctx.redirect("/days");
            return;
        }
        Apiary apiary = place.yard().apiary(apiaryId);
        List<Colony> colonies = place.yard().colonies(apiaryId);
        String title = desk.texts(ctx).say("day.plan.title", apiary.name());
        Shell page = desk.shell(ctx, title, "plan");
        desk.show(
                ctx,
                "dayPlan",
                page,
                new Planning(
                        apiary,
                        colonies,
                        colonies.isEmpty() ? List.of() : Claim.wanted(colonies.size()),
                        Math.min(USUAL_DRAW, colonies.size()),
                        FreshSeed.draw(),
                        LocalDate.now(apiary.zone()).toString(),
                        new Options(place, page.texts(), page.formats()).operators()));
    }

    void show(Context ctx) {
        DayPlan plan = place.days().plan(Query.path(ctx, desk.texts(ctx)));
        Apiary apiary = place.yard().apiary(plan.apiaryId());
        String title = desk.texts(ctx).say("day.one", apiary.name());
        Shell page = desk.shell(ctx, title, "plan").at(apiary.zone());
        Options options = new Options(place, page.texts(), page.formats());
        List<DayPlans.Step> steps = place.days().steps(plan.id());
        Optional<Threshold> threshold = place.standards().threshold(apiary.id());
        List<DayPlans.Step> waiting = steps.stream().filter(DayPlans.Step::waits).toList();
        List<Option> recipes = options.recipes();
        desk.show(
                ctx,
                "day",
                page,
                new View(
                        plan,
                        apiary,
                        rows(steps, threshold, page),
                        DayPlanner.claim(plan).orElse(null),
                        waiting.size(),
                        waiting.isEmpty() ? null : waiting.get(0).colony(),
                        place.days()
                                .recipe(plan.id())
                                .map(one -> one.recipeId() + ":" + one.version())
                                .orElse(Options.only(recipes)),
                        options.benches(),
                        recipes,
                        options.spirits()));
    }

    private static List<Row> rows(
            List<DayPlans.Step> steps, Optional<Threshold> threshold, Shell page) {
        OptionalDouble end = IntervalBar.commonEnd(steps.stream().map(DayPage::result).toList());
        return steps.stream().map(step -> row(step, threshold, end, page)).toList();
    }

    private static Result result(DayPlans.Step step) {
        return Infestations.of(step.mites(), step.bees(), step.beeMeasure(), step.beesLogSd());
    }

    private static Row row(
            DayPlans.Step step, Optional<Threshold> threshold, OptionalDouble end, Shell page) {
        if (step.removed()) {
            return new Row(step, "neutral", "○", page.t("day.stage.removed"), null);
        }
        if (step.counted()) {
            Result result = result(step);
            Verdict.Call call =
                    Verdict.of(threshold, result)
                            .map(Verdict::call)
                            .orElse(Verdict.Call.NOT_ASSESSED);
            String picture = Pictures.small(result, threshold, end, page);
            Reading reading = Reading.of(result, call, picture, page.formats());
            return new Row(step, "normal", "●", page.t("day.stage.counted"), reading);
        }
        if (step.shaken()) {
            return new Row(step, "action", "◆", page.t("day.stage.shaken"), null);
        }
        if (step.standing() == null) {
            return new Row(step, "neutral", "○", page.t("day.stage.planned"), null);
        }
        String ticket =
                page.t(
                        "day.stage.ticket",
                        page.texts().say(step.standing()),
                        step.benchId(),
                        step.position());
        return switch (step.standing()) {
            case ISSUED, ACCEPTED, RUN -> new Row(step, "normal", "▶", ticket, null);
            case REFUSED -> new Row(step, "abnormal", "▲", ticket, null);
            case WITHDRAWN -> new Row(step, "neutral", "○", ticket, null);
        };
    }
}
