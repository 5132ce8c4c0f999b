package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.OPERATOR;
import static org.evenwash.logger.web.Access.REVIEWER;
import static org.evenwash.logger.web.Route.get;
import static org.evenwash.logger.web.Route.post;

import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.evenwash.analysis.agitation.AgitationPlan;
import org.evenwash.analysis.speed.SpeedBias;
import org.evenwash.logger.store.Calibration;
import org.evenwash.logger.store.CalibrationKind;
import org.evenwash.logger.wash.AgitationAdvice;
import org.evenwash.logger.wash.BeeMeasures;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.Calibrating;
import org.evenwash.logger.wash.RecipeWish;
import org.evenwash.logger.wash.Workplace;

/** The part of the HTTP interface that calibrates: studies, recipes made from them, readings. */
final class CalibrateApi {
    private static final int LONGEST_WHY = 400;

    private final FrontDesk desk;
    private final Workplace place;

    CalibrateApi(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    List<Route> routes() {
        return List.of(
                get("/api/calibrations", OPERATOR, ctx -> ctx.json(calibrating().shelf().all())),
                get("/api/calibrations/{id}", OPERATOR, this::calibration),
                post("/api/calibrations/{id}/use", REVIEWER, this::use),
                post("/api/calibrations/{id}/end", REVIEWER, this::end),
                get("/api/studies/agitation", OPERATOR, this::study),
                get("/api/studies/plan", OPERATOR, this::plan),
                post("/api/studies/recipes", REVIEWER, this::studyRecipes),
                post("/api/studies/recipe", REVIEWER, this::recipe),
                post("/api/studies/recovery", REVIEWER, this::recovery),
                post("/api/washes/{id}/leave-out", REVIEWER, this::leaveOut),
                post("/api/washes/{id}/take-in", REVIEWER, this::takeIn),
                post("/api/bee-measures", REVIEWER, this::bees),
                post("/api/bench-speeds", OPERATOR, this::speed));
    }

    private Calibrating calibrating() {
        return place.calibrating();
    }

    private UUID id(Context ctx) {
        return Query.path(ctx, desk.texts(ctx));
    }

    private void calibration(Context ctx) {
        ctx.json(calibrating().shelf().calibration(id(ctx)));
    }

    private void use(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        By by = Api.by(ctx, in);
        in.check();
        Answer.done(ctx, page(id), calibrating().shelf().use(id, by));
    }

    private void end(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        By by = Api.by(ctx, in);
        in.check();
        Answer.done(ctx, page(id), calibrating().shelf().end(id, by));
    }

    private static String page(UUID id) {
        return "/calibrations/" + id;
    }

    private void study(Context ctx) {
        Input in = Input.ofQuery(ctx, desk.texts(ctx));
        StudyForm form = StudyForm.read(in);
        in.check();
        ctx.json(StudyDocument.of(calibrating().studies().study(form.filter(), form.secondWash())));
    }

    private void plan(Context ctx) {
        Input in = Input.ofQuery(ctx, desk.texts(ctx));
        double guess_s = in.number("guess_s", 5, 3_600);
        double mites = in.number("mitesPerWash", 1, 1_000);
        double wanted_percent = in.number("wanted_percent", 2, 100);
        in.check();
        AgitationAdvice advice = AgitationAdvice.of(guess_s, mites, wanted_percent / 100);
        ctx.json(
                new PlanDocument(
                        advice.times_s(),
                        advice.rows(),
                        advice.even().isPresent() ? advice.even().getAsInt() : null,
                        advice.uneven().isPresent() ? advice.uneven().getAsInt() : null,
                        advice.advice()));
    }

    /** A plan; a number of washes beyond 10,000 is left open. */
    private record PlanDocument(
            List<Double> times_s,
            List<AgitationAdvice.Row> rows,
            Integer washesIfEven,
            Integer washesIfUneven,
            List<String> advice) {}

    /** One recipe for each time that the plan wants to try. */
    private void studyRecipes(Context ctx) {
        Input in = desk.input(ctx);
        double guess_s = in.number("guess_s", 5, 3_600);
        RecipeChoice base = RecipeChoice.of(in, "baseRecipe");
        By by = Api.by(ctx, in);
        in.check();
        Answer.created(
                ctx,
                "/plan",
                calibrating()
                        .studyRecipes()
                        .write(AgitationPlan.timesAround(guess_s), base.id(), base.version(), by));
    }

    private void recipe(Context ctx) {
        Input in = desk.input(ctx);
        StudyForm form = StudyForm.read(in);
        double share = in.number("share", 0.5, 0.999);
        RecipeWish.Aim aim = in.choiceOr("aim", RecipeWish.Aim.UPPER_LIMIT);
        RecipeChoice base = RecipeChoice.of(in, "baseRecipe");
        int bouts = in.wholeNumber("bouts", 1, 20);
        Double rest_s = in.optionalNumber("rest_s", 0, 600);
        String name = in.optionalText("name", Api.LONGEST_NAME);
        By by = Api.by(ctx, in);
        in.check();
        RecipeWish wish =
                new RecipeWish(
                        share,
                        aim,
                        base.id(),
                        base.version(),
                        bouts,
                        rest_s == null ? 0 : rest_s,
                        name);
        answer(ctx, calibrating().recipes().make(form.filter(), form.secondWash(), wish, by));
    }

    private void recovery(Context ctx) {
        Input in = desk.input(ctx);
        StudyForm form = StudyForm.read(in);
        RecipeChoice recipe = RecipeChoice.of(in, "ofRecipe");
        By by = Api.by(ctx, in);
        in.check();
        answer(ctx, calibrating().recovery().use(form.filter(), recipe.id(), recipe.version(), by));
    }

    private void answer(Context ctx, UUID id) {
        Calibration made = calibrating().shelf().calibration(id);
        Answer.created(ctx, page(id), made);
    }

    private void leaveOut(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        String why = in.text("why", LONGEST_WHY);
        By by = Api.by(ctx, in);
        in.check();
        calibrating().studies().leaveOut(id, why, by);
        Answer.done(ctx, "/washes/" + id, place.washes().wash(id));
    }

    private void takeIn(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        String why = in.text("why", LONGEST_WHY);
        By by = Api.by(ctx, in);
        in.check();
        calibrating().studies().takeIn(id, why, by);
        Answer.done(ctx, "/washes/" + id, place.washes().wash(id));
    }

    private void bees(Context ctx) {
        Input in = desk.input(ctx);
        String name = in.text("name", Api.LONGEST_NAME);
        CalibrationKind kind = in.choice("measure", CalibrationKind.class);
        boolean mass = kind == CalibrationKind.MASS;
        List<BeeMeasures.CountedJar> jars = new ArrayList<>();
        for (double[] line : NumberLines.read(in, "countedJars", mass ? 2 : 1)) {
            double bees = line[line.length - 1];
            if (bees != Math.rint(bees)) {
                in.mistake("countedJars", "bad.jar", bees);
            }
            jars.add(new BeeMeasures.CountedJar(mass ? (Double) line[0] : null, (int) bees));
        }
        By by = Api.by(ctx, in);
        in.check();
        answer(ctx, calibrating().measures().add(name, kind, jars, by));
    }

    private void speed(Context ctx) {
        Input in = desk.input(ctx);
        String bench = in.text("benchId", 32);
        List<SpeedBias.Reading> readings =
                NumberLines.read(in, "readings", 2).stream()
                        .map(line -> new SpeedBias.Reading(line[0], line[1]))
                        .toList();
        By by = Api.by(ctx, in);
        in.check();
        answer(ctx, calibrating().speeds().add(bench, readings, by));
    }
}
