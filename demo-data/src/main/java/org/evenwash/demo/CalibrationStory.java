package org.evenwash.demo;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.StringJoiner;
import java.util.function.Consumer;
import org.evenwash.demo.Scenario.Course;

/**
 * The calibrating day after the washes: a heavily infested colony is washed for several lengths by
 * several people, every sample again by hand, one catch counted by all of them, jars counted bee by
 * bee, and the bench's display read beside a tachometer.
 */
final class CalibrationStory {
    private static final String COLONY = "Bindweed";

    /** Two who help on that day only: five people can say how closely counts agree. */
    private static final List<String> HELPERS = List.of("Tamsel", "Corrie");

    private static final String USUAL = "two-minutes-three-bouts:1";
    private static final double GUESS_S = 120;

    /** Mites per 100 bees: enough to tell something with few washes. */
    private static final double HEAVY = 9;

    /** Long enough to bring off whatever was left. */
    private static final double BY_HAND_S = 480;

    private static final int COUNTS_EACH = 3;

    private final Api api;
    private final Story story;
    private final Consumer<String> teller;
    private final SplittableRandom random = new SplittableRandom(Scenario.SEED + 1);
    private final Map<String, String> people = new HashMap<>();
    private final List<String> names = new ArrayList<>(Scenario.OPERATORS);

    /**
     * @param story that was played before: its people, bench and spirit go on
     */
    CalibrationStory(Api api, Story story, Consumer<String> teller) {
        this.api = api;
        this.story = story;
        this.teller = teller;
        this.people.putAll(story.operators());
    }

    void play() {
        for (String name : HELPERS) {
            names.add(name);
            people.put(name, story.made("/api/operators", Map.of("name", name)));
        }
        String colony =
                story.made("/api/colonies", Map.of("apiaryId", story.apiary(), "name", COLONY));
        List<String> recipes = recipes();
        teller.accept(
                "Calibrating with %s: %d lengths, four people, every sample washed again by hand."
                        .formatted(COLONY, recipes.size()));
        String catchOfMany = null;
        for (int round = 0; round < 4; round++) {
            for (int i = 0; i < recipes.size(); i++) {
                // Everybody takes every length once.
                catchOfMany = wash(colony, recipes.get(i), names.get((round + i) % 4));
            }
        }
        recount(catchOfMany);
        bees();
        speed();
        conclude();
    }

    /** One for each time of the plan; for two minutes the recipe that is used every day. */
    private List<String> recipes() {
        List<String> recipes = new ArrayList<>();
        api.post("/api/studies/recipes", Map.of("guess_s", GUESS_S, "baseRecipe", USUAL))
                .path("result")
                .forEach(
                        made -> {
                            var sheet = made.path("sheet");
                            boolean usual =
                                    sheet.path("bouts").path(0).path("agitation_s").asDouble()
                                            == GUESS_S;
                            recipes.add(
                                    usual
                                            ? USUAL
                                            : sheet.path("recipeId").asText()
                                                    + ":"
                                                    + sheet.path("version").asInt());
                        });
        return recipes;
    }

    private String wash(String colony, String recipe, String who) {
        Jar jar = Jar.sample(HEAVY, random);
        Map<String, Object> planned = new HashMap<>();
        planned.put("colonyId", colony);
        planned.put("operatorId", people.get(who));
        planned.put("frame", "BROOD_NEST");
        planned.put("queenCheck", "SEEN_ELSEWHERE");
        planned.put("bees", jar.bees());
        planned.put("beeMeasure", "COUNTED");
        planned.put("spiritBatchId", story.spirit());
        String wash = story.made("/api/washes", planned);
        double agitation_s = story.ticketed(wash, "FIRST", recipe, Course.PLAIN);
        int first = jar.agitate(agitation_s, random);
        count(wash, "FIRST", first, who, false);
        api.post(
                "/api/washes/" + wash + "/passes",
                Map.of("pass", "SECOND", "handAgitation_s", BY_HAND_S));
        int second = jar.agitate(BY_HAND_S, random);
        count(wash, "SECOND", second, who, false);
        teller.accept(
                "  %s, %.0f s: %d mites, then %d more.".formatted(who, agitation_s, first, second));
        return wash;
    }

    private void count(String wash, String pass, int mites, String who, boolean again) {
        api.post(
                "/api/washes/" + wash + "/counts",
                Map.of(
                        "pass",
                        pass,
                        "mites",
                        mites,
                        "countedBy",
                        people.get(who),
                        "recount",
                        again,
                        "blind",
                        again));
    }

    /** Nobody counts the same number every time: a mite is missed, or a speck taken for one. */
    private void recount(String wash) {
        teller.accept("  Five people count the last catch, three times each, not knowing.");
        int mites =
                api.get("/api/washes/" + wash)
                        .path("passes")
                        .path(0)
                        .path("counts")
                        .path(0)
                        .path("mites")
                        .asInt();
        for (int time = 0; time < COUNTS_EACH; time++) {
            for (String who : names) {
                int slip = random.nextInt(100);
                int found = mites + (slip < 15 ? -1 : slip < 25 ? 1 : 0);
                count(wash, "FIRST", Math.max(0, found), who, true);
            }
        }
    }

    /** About 8.3 bees to the gram: 120 mg a bee, within the range of published masses. */
    private void bees() {
        StringJoiner filled = new StringJoiner("\n");
        StringJoiner weighed = new StringJoiner("\n");
        for (int i = 0; i < 8; i++) {
            filled.add(String.valueOf(288 + random.nextInt(28)));
            int bees = 240 + random.nextInt(110);
            double grams = 0.12 * bees * (0.97 + 0.06 * random.nextDouble());
            weighed.add("%.1f %d".formatted(grams, bees));
        }
        measure("FILL_LINE", "Wide jar, upper line", filled.toString());
        measure("MASS", "Kitchen scales", weighed.toString());
        teller.accept("  Eight jars counted at the line, eight weighed and counted.");
    }

    private void measure(String measure, String name, String jars) {
        api.post(
                "/api/bee-measures", Map.of("measure", measure, "name", name, "countedJars", jars));
    }

    private void speed() {
        api.post(
                "/api/bench-speeds",
                Map.of(
                        "benchId",
                        story.benchId(),
                        "readings",
                        "180 177.9; 181 178.6; 120 118.4; 121 119.2; 60 59.3"));
    }

    /** The study's own conclusions: a recipe, and the recovery of the everyday one. */
    private void conclude() {
        api.post(
                "/api/studies/recipe",
                Map.of(
                        "share",
                        0.95,
                        "aim",
                        "UPPER_LIMIT",
                        "bouts",
                        3,
                        "rest_s",
                        30,
                        "baseRecipe",
                        USUAL,
                        "by",
                        people.get(names.get(0))));
        api.post(
                "/api/studies/recovery", Map.of("ofRecipe", USUAL, "by", people.get(names.get(0))));
        teller.accept("  A recipe is made of it, and washes are shown corrected for recovery.");
    }
}
