package org.evenwash.logger.wash;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.evenwash.logger.store.RecipeVersion;
import org.evenwash.logger.store.Recipes;
import org.evenwash.record.ContractViolation;
import org.evenwash.record.Ids;
import org.evenwash.record.RecipeSheet;
import org.jdbi.v3.core.Handle;

/** Recipes for a study: the times that its plan wants to try. */
public final class StudyRecipes {
    private static final int LONGEST_ID = 48;

    private final Desk desk;

    StudyRecipes(Desk desk) {
        this.desk = desk;
    }

    /**
     * Writes a recipe for each time of a study: one bout, at the speed of another recipe. One that is
     * there already stays as it is.
     *
     * @param times_s 1 to 3,600 each
     */
    public List<RecipeVersion> write(
            List<Double> times_s, String baseRecipeId, int baseVersion, By by) {
        List<RecipeSheet> sheets = new ArrayList<>();
        desk.once(
                by,
                "write recipes for a study",
                Ids.next(),
                handle -> {
                    RecipeSheet base = RecipeBook.recipe(handle, baseRecipeId, baseVersion).sheet();
                    for (double seconds : times_s) {
                        sheets.add(written(handle, studySheet(base, seconds), by));
                    }
                });
        return desk.read(
                handle ->
                        sheets.stream()
                                .map(
                                        one ->
                                                RecipeBook.recipe(
                                                        handle, one.recipeId(), one.version()))
                                .toList());
    }

    private RecipeSheet written(Handle handle, RecipeSheet sheet, By by) {
        int newest = Recipes.newestVersion(handle, sheet.recipeId());
        if (newest > 0) {
            RecipeSheet there = RecipeBook.recipe(handle, sheet.recipeId(), newest).sheet();
            if (there.hash().equals(sheet.hash())) {
                return there;
            }
        }
        RecipeSheet next =
                RecipeSheet.of(
                        sheet.recipeId(),
                        sheet.name(),
                        newest + 1,
                        sheet.bouts(),
                        1,
                        sheet.tolerances(),
                        sheet.longestHold_s());
        Recipes.insert(handle, new RecipeVersion(next, null, desk.now(), by.operatorId(), null));
        return next;
    }

    private static RecipeSheet studySheet(RecipeSheet base, double seconds) {
        RecipeSheet.Bout pattern = base.bouts().get(0);
        String whole = String.format(Locale.ROOT, "%.0f", seconds);
        String id = "study-" + whole + "s-" + base.recipeId();
        try {
            return RecipeSheet.of(
                    id.substring(0, Math.min(LONGEST_ID, id.length())),
                    "Study, " + whole + " s",
                    1,
                    List.of(
                            new RecipeSheet.Bout(
                                    seconds,
                                    pattern.speed_rpm(),
                                    Math.min(pattern.ramp_s(), seconds / 2),
                                    0,
                                    false)),
                    1,
                    base.tolerances(),
                    base.longestHold_s());
        } catch (ContractViolation e) {
            throw Refused.invalid(
                    "recipe of " + whole + " s", "cannot be run: " + e.getMessage(), "guess again");
        }
    }
}
