package org.evenwash.logger.store;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.record.RecipeSheet;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;

/** Rows of {@code recipe}. */
public final class Recipes {
    private static final RowMapper<RecipeVersion> ROW =
            (row, context) ->
                    new RecipeVersion(
                            Json.read(row.getString("sheet_json"), RecipeSheet.class),
                            uuid(row.getString("calibration_id")),
                            Instant.ofEpochMilli(row.getLong("created_at")),
                            uuid(row.getString("created_by")),
                            row.getObject("retired_at") == null
                                    ? null
                                    : Instant.ofEpochMilli(row.getLong("retired_at")));

    private Recipes() {}

    private static UUID uuid(String text) {
        return text == null ? null : UUID.fromString(text);
    }

    /** False when that version is already there. */
    public static boolean insert(Handle handle, RecipeVersion recipe) {
        RecipeSheet sheet = recipe.sheet();
        return handle.createUpdate(
                                """
                                INSERT INTO recipe (recipe_id, version, name, hash, agitation_s, sheet_json,
                                    calibration_id, created_at, created_by, retired_at)
                                VALUES (:recipeId, :version, :name, :hash, :agitation_s, :sheet,
                                    :calibrationId, :createdAt, :createdBy, :retiredAt)
                                ON CONFLICT (recipe_id, version) DO NOTHING""")
                        .bind("recipeId", sheet.recipeId())
                        .bind("version", sheet.version())
                        .bind("name", sheet.name())
                        .bind("hash", sheet.hash())
                        .bind("agitation_s", sheet.totalAgitation_s())
                        .bind("sheet", Json.write(sheet))
                        .bindMethods(recipe)
                        .execute()
                == 1;
    }

    public static Optional<RecipeVersion> find(Handle handle, String recipeId, int version) {
        return handle.createQuery(
                        "SELECT * FROM recipe WHERE recipe_id = :id AND version = :version")
                .bind("id", recipeId)
                .bind("version", version)
                .map(ROW)
                .findOne();
    }

    /** The highest version number given so far, retired ones included; 0 for a new id. */
    public static int newestVersion(Handle handle, String recipeId) {
        return handle.createQuery(
                        "SELECT COALESCE(MAX(version), 0) FROM recipe WHERE recipe_id = :id")
                .bind("id", recipeId)
                .mapTo(Integer.class)
                .one();
    }

    /** Recipes that rest on a calibration. */
    public static List<RecipeVersion> ofCalibration(Handle handle, UUID calibrationId) {
        return handle.createQuery(
                        """
                        SELECT * FROM recipe WHERE calibration_id = :calibration
                        ORDER BY recipe_id, version""")
                .bind("calibration", calibrationId)
                .map(ROW)
                .list();
    }

    /** Every version, by name, the newest first. */
    public static List<RecipeVersion> all(Handle handle) {
        return handle.createQuery("SELECT * FROM recipe ORDER BY name, recipe_id, version DESC")
                .map(ROW)
                .list();
    }

    /** The newest version of every recipe in use, by name. */
    public static List<RecipeVersion> current(Handle handle) {
        return handle.createQuery(
                        """
                        SELECT * FROM recipe WHERE retired_at IS NULL AND version =
                            (SELECT MAX(version) FROM recipe other
                             WHERE other.recipe_id = recipe.recipe_id AND other.retired_at IS NULL)
                        ORDER BY name, recipe_id""")
                .map(ROW)
                .list();
    }
}
