package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.agitation.LackOfFit;
import org.evenwash.analysis.agitation.ModelChoice;
import org.evenwash.analysis.agitation.TimeToShare;
import org.evenwash.analysis.agitation.TimedWash;
import org.evenwash.logger.chart.Drawing;
import org.evenwash.logger.chart.StudyCharts;
import org.evenwash.logger.store.StudyWash;
import org.evenwash.logger.wash.AgitationStudy;
import org.evenwash.logger.wash.RecipeWish;
import org.evenwash.logger.wash.SecondWash;
import org.evenwash.logger.wash.Workplace;

/** {@code /calibrate/agitation}: what second washes say about agitation time and recovery. */
public final class AgitationPage {
    private static final int WASHES_SHOWN = 60;
    private static final double USUAL = 0.95;

    private final FrontDesk desk;
    private final Workplace place;
    private final PagePictures<Painted> pictures = new PagePictures<>();

    /** What a picture shows. */
    private record Painted(String title, SecondWash secondWash, List<TimedWash> washes) {}

    AgitationPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /**
     * The time to one share.
     *
     * @param beyond the longest time tried
     */
    public record Answer(int percent, ResultLine time, boolean beyond) {}

    /** One curve that was fitted; {@code time} in words. */
    public record Curve(String words, boolean used, String qaic, String time) {}

    /**
     * The recovery of one recipe.
     *
     * @param recipe id and version as a form names them, null for washes shaken by hand
     */
    public record RecoveryLine(
            String name,
            String recipe,
            int washes,
            int mites,
            ResultLine recovery,
            String newWash,
            boolean enough) {}

    /**
     * @param main the time to 95 %
     * @param picture SVG text, null without a fit
     * @param fit whether the curve fits, in words; null where it cannot be said
     * @param canMake whether a recipe can be made
     */
    public record View(
            StudyForm form,
            StudyChoices choices,
            AgitationStudy study,
            List<StudyWash> shown,
            ResultLine main,
            List<Answer> answers,
            String picture,
            List<Curve> curves,
            String fit,
            List<RecoveryLine> recoveries,
            boolean canMake,
            List<Option> shares,
            List<Option> aims,
            List<Option> recipes) {}

    void show(Context ctx) {
        Input in = Input.ofQuery(ctx, desk.texts(ctx));
        StudyForm form = StudyForm.read(in);
        in.check();
        AgitationStudy study =
                place.calibrating().studies().study(form.filter(), form.secondWash());
        Shell page = desk.shell(ctx, desk.texts(ctx).say("agitation.title"), "calibrate");
        Options options = new Options(place, page.texts(), page.formats());
        Result usual = usual(study);
        desk.show(
                ctx,
                "agitation",
                page,
                new View(
                        form,
                        StudyChoices.of(place, page),
                        study,
                        study.used().stream().limit(WASHES_SHOWN).toList(),
                        ResultLine.of(usual, Quantity.AGITATION_TIME, page),
                        answers(study, page),
                        picture(study, page),
                        curves(study, page),
                        fit(study, page),
                        recoveries(study, page),
                        canMake(study),
                        AgitationStudy.SHARES.stream()
                                .map(share -> new Option(share.toString(), percent(share) + " %"))
                                .toList(),
                        options.each(RecipeWish.Aim.class),
                        options.recipes()));
    }

    private static Result usual(AgitationStudy study) {
        return study.answers().stream()
                .filter(answer -> answer.share() == USUAL)
                .findFirst()
                .orElseThrow()
                .time();
    }

    private static int percent(double share) {
        return (int) Math.round(100 * share);
    }

    private static List<Answer> answers(AgitationStudy study, Shell page) {
        double longest_s =
                study.byTime().stream()
                        .mapToDouble(AgitationStudy.AtTime::agitation_s)
                        .max()
                        .orElse(0);
        return study.answers().stream()
                .map(
                        one ->
                                new Answer(
                                        percent(one.share()),
                                        ResultLine.of(one.time(), Quantity.AGITATION_TIME, page),
                                        one.time() instanceof Result.Estimate time
                                                && time.value() > longest_s))
                .toList();
    }

    private static boolean canMake(AgitationStudy study) {
        return study.lacking().isEmpty()
                && study.answers().stream()
                        .anyMatch(
                                one ->
                                        one.time() instanceof Result.Estimate
                                                || one.time() instanceof Result.Bound);
    }

    private String picture(AgitationStudy study, Shell page) {
        boolean exhaustive = study.secondWash() == SecondWash.EXHAUSTIVE;
        String title = page.t(exhaustive ? "agitation.chart" : "agitation.chart.same");
        return pictures.svg(
                new Painted(title, study.secondWash(), study.timed()),
                asked -> painted(asked, study));
    }

    private static Optional<Drawing> painted(Painted asked, AgitationStudy study) {
        String title = asked.title();
        List<TimedWash> washes = asked.washes();
        return asked.secondWash() == SecondWash.EXHAUSTIVE
                ? study.choice().map(fit -> StudyCharts.agitation(title, washes, fit, usual(study)))
                : study.sameMethod()
                        .map(fit -> StudyCharts.agitation(title, washes, fit, usual(study)));
    }

    private static List<Curve> curves(AgitationStudy study, Shell page) {
        List<Curve> curves = new ArrayList<>();
        if (study.choice().isEmpty()) {
            return curves;
        }
        ModelChoice choice = study.choice().get();
        boolean enough = !(usual(study) instanceof Result.NotEnoughData);
        for (ModelChoice.Candidate candidate : choice.candidates()) {
            curves.add(
                    new Curve(
                            candidate.fit().model().words(),
                            candidate.fit() == choice.chosen(),
                            page.formats().number(candidate.qaic(), 1),
                            enough
                                    ? candidate
                                            .fit()
                                            .timeToShare()
                                            .map(time -> words(time, page))
                                            .orElse(page.t("agitation.noRise"))
                                    : page.t("agitation.unknown")));
        }
        return curves;
    }

    private static String words(TimeToShare time, Shell page) {
        return page.t(
                "agitation.time",
                seconds(time.seconds(), page),
                seconds(time.lower(), page),
                seconds(time.upper(), page));
    }

    private static String seconds(double seconds, Shell page) {
        return Double.isInfinite(seconds)
                ? page.t("agitation.noLimit")
                : page.formats().number(seconds, 0);
    }

    private static String fit(AgitationStudy study, Shell page) {
        Optional<LackOfFit> lack = study.choice().flatMap(ModelChoice::lackOfFit);
        return lack.map(
                        one ->
                                page.t(
                                        one.misfit()
                                                ? "agitation.fit.misfit"
                                                : one.suspect()
                                                        ? "agitation.fit.suspect"
                                                        : "agitation.fit.fits",
                                        page.formats().number(one.p(), 3)))
                .orElse(null);
    }

    private static List<RecoveryLine> recoveries(AgitationStudy study, Shell page) {
        return study.recoveries().stream()
                .map(
                        one ->
                                new RecoveryLine(
                                        name(one, page),
                                        one.recipeId() == null
                                                ? null
                                                : one.recipeId() + ":" + one.version(),
                                        one.summary().washes(),
                                        one.summary().mites(),
                                        ResultLine.of(one.recovery(), Quantity.RECOVERY, page),
                                        newWash(one, page),
                                        one.enough() && one.newWash().isPresent()))
                .toList();
    }

    private static String name(AgitationStudy.RecipeRecovery one, Shell page) {
        return one.recipeId() == null
                ? page.t("study.byHand")
                : page.t("study.recipe", one.name(), one.version());
    }

    private static String newWash(AgitationStudy.RecipeRecovery one, Shell page) {
        return one.newWash()
                .map(
                        beta ->
                                page.t(
                                        "agitation.newWash",
                                        page.formats().number(100 * beta.mean(), 0),
                                        page.formats().number(100 * beta.limits().lower(), 0),
                                        page.formats().number(100 * beta.limits().upper(), 0)))
                .orElse(page.t("agitation.newWash.unknown"));
    }
}
