package org.evenwash.logger.wash;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultJson;
import org.evenwash.logger.store.CalibrationKind;
import org.evenwash.logger.store.RecipeVersion;
import org.evenwash.logger.store.Recipes;
import org.evenwash.logger.store.StudyFilter;
import org.evenwash.record.ContractViolation;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Ids;
import org.evenwash.record.RecipeSheet;
import org.evenwash.record.ShippedRecipes;
import org.jdbi.v3.core.Handle;

/** Turns the agitation time that a study found into a recipe version. */
public final class CalibratedRecipes {
    /** Versions made from a shipped recipe: the shipped one stays on offer beside them. */
    static final String OWN_LINE = "calibrated";

    private static final int MOST_BOUTS = 20;
    private static final double LONGEST_REST_S = 600;

    /** Bouts are given in halves of a second, rounded up. */
    private static final double STEP_S = 0.5;

    private final Desk desk;
    private final AgitationStudies studies;
    private final CalibrationShelf shelf;

    CalibratedRecipes(Desk desk, AgitationStudies studies, CalibrationShelf shelf) {
        this.desk = desk;
        this.studies = studies;
        this.shelf = shelf;
    }

    /**
     * Makes a recipe version whose agitation brings a share of the mites off, and the calibration
     * that it rests on. It is offered for tickets from then on.
     *
     * @return the calibration
     * @throws Refused if the study gives no such time, or the recipe could not be run
     */
    public UUID make(StudyFilter filter, SecondWash secondWash, RecipeWish wish, By by) {
        check(wish);
        AgitationStudy study = studies.study(filter, secondWash);
        Result time =
                study.answers().stream()
                        .filter(answer -> answer.share() == wish.share())
                        .findFirst()
                        .orElseThrow(
                                () ->
                                        Refused.invalid(
                                                "share",
                                                "is " + wish.share(),
                                                "choose one of " + AgitationStudy.SHARES))
                        .time();
        double seconds = Math.max(seconds(time, wish.aim(), study), shortest_s(study));
        UUID id = Ids.next();
        return desk.once(
                by,
                "make a recipe",
                id,
                handle -> {
                    RecipeSheet sheet = sheet(handle, seconds, wish);
                    shelf.put(
                            handle,
                            id,
                            new CalibrationShelf.Draft(
                                    CalibrationKind.AGITATION_TIME,
                                    sheet.name(),
                                    filter.benchId(),
                                    sheet.recipeId(),
                                    sheet.version(),
                                    StudyInputs.of(study, study.used()),
                                    result(study, wish, time, sheet),
                                    true),
                            by);
                    Recipes.insert(
                            handle,
                            new RecipeVersion(sheet, id, desk.now(), by.operatorId(), null));
                });
    }

    private static void check(RecipeWish wish) {
        Entry.present("which end of the interval", wish.aim());
        if (wish.bouts() < 1 || wish.bouts() > MOST_BOUTS) {
            throw Refused.invalid("bouts", "is " + wish.bouts(), "choose 1 to " + MOST_BOUTS);
        }
        Entry.range("rest", wish.rest_s(), 0, LONGEST_REST_S, "s");
    }

    /** That less is enough would rest on the curve alone, below all that anybody has seen. */
    private static double shortest_s(AgitationStudy study) {
        return study.byTime().get(0).agitation_s();
    }

    private static double seconds(Result time, RecipeWish.Aim aim, AgitationStudy study) {
        if (time instanceof Result.Estimate estimate) {
            double seconds =
                    aim == RecipeWish.Aim.UPPER_LIMIT ? estimate.upper() : estimate.value();
            if (Double.isFinite(seconds)) {
                return seconds;
            }
            throw Refused.conflict(
                    "agitation time",
                    "has no upper limit yet",
                    "take the estimate, or wash more samples at longer times");
        }
        Optional<String> lacking = study.lacking();
        boolean atMost = time instanceof Result.Bound bound && bound.side() == Result.Side.AT_MOST;
        if (atMost && lacking.isEmpty()) {
            return ((Result.Bound) time).limit();
        }
        String needs =
                time instanceof Result.NotEnoughData none
                        ? none.needs()
                        : atMost
                                ? lacking.get()
                                : "washes at longer times: only a lower limit is known";
        throw Refused.conflict("agitation time", "is not known yet", "it needs " + needs);
    }

    private static RecipeSheet sheet(Handle handle, double seconds, RecipeWish wish) {
        RecipeSheet base =
                RecipeBook.recipe(handle, wish.baseRecipeId(), wish.baseVersion()).sheet();
        RecipeSheet.Bout pattern = base.bouts().get(0);
        double bout_s = STEP_S * Math.ceil(seconds / wish.bouts() / STEP_S);
        if (bout_s < 2 * pattern.ramp_s()) {
            throw Refused.invalid(
                    "bouts",
                    "of "
                            + bout_s
                            + " s are shorter than their two ramps of "
                            + pattern.ramp_s()
                            + " s",
                    "choose fewer bouts");
        }
        List<RecipeSheet.Bout> bouts = new ArrayList<>();
        for (int i = 1; i <= wish.bouts(); i++) {
            boolean reverse = base.bouts().get((i - 1) % base.bouts().size()).reverse();
            bouts.add(
                    new RecipeSheet.Bout(
                            bout_s,
                            pattern.speed_rpm(),
                            pattern.ramp_s(),
                            i == wish.bouts() ? 0 : wish.rest_s(),
                            reverse));
        }
        boolean shipped =
                ShippedRecipes.ALL.stream().anyMatch(one -> one.recipeId().equals(base.recipeId()));
        String recipeId = shipped ? OWN_LINE : base.recipeId();
        try {
            RecipeSheet sheet =
                    RecipeSheet.of(
                            recipeId,
                            name(wish, bout_s),
                            1 + Recipes.newestVersion(handle, recipeId),
                            bouts,
                            1,
                            base.tolerances(),
                            base.longestHold_s());
            if (sheet.total_s() > CycleRecord.LONGEST_S) {
                throw Refused.invalid(
                        "recipe", "would take " + sheet.total_s() + " s", "choose shorter rests");
            }
            return sheet;
        } catch (ContractViolation e) {
            throw Refused.invalid(
                    "recipe", "cannot be run: " + e.getMessage(), "choose other bouts or rests");
        }
    }

    private static String name(RecipeWish wish, double bout_s) {
        if (wish.name() != null) {
            return Entry.name("name", wish.name());
        }
        return String.format(
                Locale.ROOT,
                "%.0f s in %d %s, calibrated for %.0f %%",
                bout_s * wish.bouts(),
                wish.bouts(),
                wish.bouts() == 1 ? "bout" : "bouts",
                100 * wish.share());
    }

    private static Map<String, Object> result(
            AgitationStudy study, RecipeWish wish, Result time, RecipeSheet sheet) {
        Map<String, Object> result = new LinkedHashMap<>();
        result.put("share", wish.share());
        result.put("aim", wish.aim());
        result.put("time", ResultJson.of(time, Quantity.AGITATION_TIME));
        Map<String, Object> times = new LinkedHashMap<>();
        study.answers()
                .forEach(
                        one ->
                                times.put(
                                        String.valueOf(one.share()),
                                        ResultJson.of(one.time(), Quantity.AGITATION_TIME)));
        result.put("times", times);
        study.choice()
                .ifPresent(
                        choice -> {
                            result.put("model", choice.chosen().model());
                            result.put("dispersion", choice.phi());
                            choice.lackOfFit().ifPresent(l -> result.put("lackOfFitP", l.p()));
                        });
        study.sameMethod().ifPresent(fit -> result.put("ratePerSecond", fit.k()));
        result.put("agitation_s", sheet.totalAgitation_s());
        return result;
    }
}
