package org.evenwash.controller.config;

import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.evenwash.controller.process.Bout;
import org.evenwash.controller.process.Recipe;
import org.evenwash.controller.process.Tolerances;
import org.evenwash.record.ShippedRecipes;

/**
 * A person's own recipes:
 *
 * <pre>
 * recipes:
 *   - id: gentle-start
 *     name: Gentle start, then two long bouts
 *     version: 1
 *     bouts:
 *       - { agitation_s: 20, speed_rpm: 120, ramp_s: 2, rest_s: 10 }
 *       - { agitation_s: 50, speed_rpm: 180, ramp_s: 1.5, rest_s: 30, reverse: true }
 *     repeats: 1
 *     tolerances: { agitation_s: 0.2, rest_s: 2, speed_percent: 10, timeInBand_percent: 90 }
 *     longestHold_s: 300
 * </pre>
 *
 * Tolerances, repeats, longest hold, version, ramp, rest and reverse may be left out.
 */
final class RecipesFile {
    private static final List<String> KEYS =
            List.of("id", "name", "version", "bouts", "repeats", "tolerances", "longestHold_s");
    private static final List<String> BOUT_KEYS =
            List.of("agitation_s", "speed_rpm", "ramp_s", "rest_s", "reverse");
    private static final List<String> TOLERANCE_KEYS =
            List.of("agitation_s", "rest_s", "speed_percent", "timeInBand_percent");

    private RecipesFile() {}

    static List<Recipe> shipped() {
        return ShippedRecipes.ALL.stream().map(RecipeSheets::recipe).toList();
    }

    /** Reads the file; what is wrong with it is added to {@code mistakes} under its own name. */
    static List<Recipe> read(Path file, double fastest_rpm, Mistakes mistakes) {
        Mistakes own = new Mistakes(file.toString());
        List<Recipe> recipes = new ArrayList<>();
        try {
            Section root = new Section("", YamlFile.nodes(YamlFile.text(file), own), null, own);
            root.allowOnly(List.of("recipes"));
            Map<String, Integer> lines = new HashMap<>();
            shipped().forEach(recipe -> lines.put(recipe.id(), 0));
            for (Section section : root.sections("recipes")) {
                Recipe recipe = recipe(section);
                Integer before = lines.putIfAbsent(recipe.id(), section.lineOf("id"));
                if (before != null) {
                    section.mistake(
                            "id",
                            "'"
                                    + recipe.id()
                                    + (before == 0
                                            ? "' is a shipped recipe's"
                                            : "' stands in line " + before + " already"),
                            "Give this recipe an id of its own");
                }
                for (String mistake :
                        own.none() ? recipe.mistakes(fastest_rpm) : List.<String>of()) {
                    section.mistake("id", "'" + recipe.id() + "': " + mistake, "Correct it here");
                }
                recipes.add(recipe);
            }
            own.throwIfAny();
        } catch (MistakenFile e) {
            mistakes.addAll(e.mistakes());
        }
        return recipes;
    }

    private static Recipe recipe(Section section) {
        section.allowOnly(KEYS);
        List<Bout> bouts = new ArrayList<>();
        for (Section bout : section.sections("bouts")) {
            bout.allowOnly(BOUT_KEYS);
            bouts.add(
                    new Bout(
                            seconds(bout.number("agitation_s", 0.1, 3_600)),
                            bout.number("speed_rpm", 1, 3_000),
                            seconds(bout.has("ramp_s") ? bout.number("ramp_s", 0, 60) : 1.5),
                            seconds(bout.has("rest_s") ? bout.number("rest_s", 0, 3_600) : 0),
                            bout.has("reverse") && bout.yesNo("reverse")));
        }
        return new Recipe(
                section.text("id"),
                section.text("name"),
                section.has("version") ? section.whole("version", 1, 1_000_000) : 1,
                bouts,
                section.has("repeats") ? section.whole("repeats", 1, Recipe.MOST_REPEATS) : 1,
                section.has("tolerances")
                        ? tolerances(section.section("tolerances"))
                        : Tolerances.USUAL,
                seconds(
                        section.has("longestHold_s")
                                ? section.number("longestHold_s", 0, 3_600)
                                : 300));
    }

    private static Tolerances tolerances(Section section) {
        section.allowOnly(TOLERANCE_KEYS);
        return new Tolerances(
                seconds(section.number("agitation_s", 0, 60)),
                seconds(section.number("rest_s", 0, 600)),
                section.number("speed_percent", 1, 50) / 100,
                section.number("timeInBand_percent", 0, 100) / 100);
    }

    private static Duration seconds(double seconds) {
        return Duration.ofMillis(Math.round(seconds * 1_000));
    }
}
