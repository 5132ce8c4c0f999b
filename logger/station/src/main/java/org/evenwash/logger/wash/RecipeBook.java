package org.evenwash.logger.wash;

import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.RecipeVersion;
import org.evenwash.logger.store.Recipes;
import org.evenwash.record.Ids;
import org.evenwash.record.RecipeSheet;
import org.evenwash.record.ShippedRecipes;
import org.jdbi.v3.core.Handle;

/** Recipes by version. A version that was written is never changed. */
public final class RecipeBook {
    private final Desk desk;

    RecipeBook(Desk desk) {
        this.desk = desk;
    }

    /**
     * Adds a version; adding the same content again changes nothing.
     *
     * @param calibrationId the calibration it rests on, null for none
     * @throws Refused if that version is there with other content
     */
    public RecipeVersion add(RecipeSheet sheet, UUID calibrationId, By by) {
        RecipeVersion recipe =
                new RecipeVersion(sheet, calibrationId, desk.now(), by.operatorId(), null);
        desk.once(
                by,
                "add a recipe",
                Ids.next(),
                handle -> {
                    if (!Recipes.insert(handle, recipe)
                            && !recipe(handle, sheet.recipeId(), sheet.version())
                                    .sheet()
                                    .hash()
                                    .equals(sheet.hash())) {
                        throw Refused.conflict(
                                "recipe",
                                sheet.recipeId()
                                        + " version "
                                        + sheet.version()
                                        + " is there with other content",
                                "number it as a new version");
                    }
                });
        return recipe(sheet.recipeId(), sheet.version());
    }

    /** Puts the shipped recipes in; those that are there already stay as they are. */
    public void addShipped() {
        ShippedRecipes.ALL.forEach(sheet -> add(sheet, null, By.nobody()));
    }

    public RecipeVersion recipe(String recipeId, int version) {
        return desk.read(handle -> recipe(handle, recipeId, version));
    }

    static RecipeVersion recipe(Handle handle, String recipeId, int version) {
        return Recipes.find(handle, Entry.present("recipe", recipeId), version)
                .orElseThrow(() -> Refused.notFound("recipe", recipeId + " version " + version));
    }

    /** Every version that was ever written, by name. */
    public List<RecipeVersion> all() {
        return desk.read(Recipes::all);
    }

    /** The newest version of each recipe in use, by name. */
    public List<RecipeVersion> current() {
        return desk.read(Recipes::current);
    }
}
