package org.evenwash.controller.config;

import java.time.Duration;
import org.evenwash.controller.process.Bout;
import org.evenwash.controller.process.Recipe;
import org.evenwash.controller.process.Tolerances;
import org.evenwash.record.RecipeSheet;

/** A recipe between the machine's words and the contract's. */
public final class RecipeSheets {
    private RecipeSheets() {}

    /** The recipe as it travels. */
    public static RecipeSheet sheet(Recipe recipe) {
        Tolerances tolerances = recipe.tolerances();
        return RecipeSheet.of(
                recipe.id(),
                recipe.name(),
                recipe.version(),
                recipe.bouts().stream()
                        .map(
                                b ->
                                        new RecipeSheet.Bout(
                                                seconds(b.agitation()),
                                                b.speed_rpm(),
                                                seconds(b.ramp()),
                                                seconds(b.rest()),
                                                b.reverse()))
                        .toList(),
                recipe.repeats(),
                new RecipeSheet.Tolerances(
                        seconds(tolerances.agitation()),
                        seconds(tolerances.rest()),
                        tolerances.speed_fraction(),
                        tolerances.timeInBand_fraction()),
                seconds(recipe.longestHold()));
    }

    /** The recipe of a ticket, as the machine takes it; not yet checked against the bench. */
    public static Recipe recipe(RecipeSheet sheet) {
        RecipeSheet.Tolerances tolerances = sheet.tolerances();
        return new Recipe(
                sheet.recipeId(),
                sheet.name(),
                sheet.version(),
                sheet.bouts().stream()
                        .map(
                                b ->
                                        new Bout(
                                                duration(b.agitation_s()),
                                                b.speed_rpm(),
                                                duration(b.ramp_s()),
                                                duration(b.rest_s()),
                                                b.reverse()))
                        .toList(),
                sheet.repeats(),
                new Tolerances(
                        duration(tolerances.agitation_s()),
                        duration(tolerances.rest_s()),
                        tolerances.speed_fraction(),
                        tolerances.timeInBand_fraction()),
                duration(sheet.longestHold_s()));
    }

    private static double seconds(Duration duration) {
        return duration.toNanos() / 1e9;
    }

    private static Duration duration(double seconds) {
        return Duration.ofNanos(Math.round(seconds * 1e9));
    }
}
