package org.evenwash.demo;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.UUID;
import java.util.function.Consumer;
import org.evenwash.analysis.spirit.Dilution;
import org.evenwash.analysis.spirit.FlashPoint;
import org.evenwash.analysis.spirit.Spirit;
import org.evenwash.analysis.spirit.Strength;
import org.evenwash.demo.Scenario.Course;
import org.evenwash.demo.Scenario.Plan;

/** Plays the scenario: every step goes the way that a person's would, nothing is put in behind. */
final class Story {
    private static final String FIRST_RECIPE = "two-minutes-three-bouts:1";
    private static final String SECOND_RECIPE = "second-wash:1";
    private static final double BY_HAND_S = 60;
    private static final double LABEL_PERCENT_VOL = 95;

    private final Api api;
    private final String benchId;
    private final Consumer<String> teller;
    private final SplittableRandom random = new SplittableRandom(Scenario.SEED);
    private final Map<String, String> colonies = new HashMap<>();
    private final Map<String, String> operators = new LinkedHashMap<>();
    private final List<String> apiaries = new ArrayList<>();
    private String spirit;
    private Hands hands;

    /**
     * @param teller takes a sentence for each thing that happens
     */
    Story(Api api, String benchId, Consumer<String> teller) {
        this.api = api;
        this.benchId = benchId;
        this.teller = teller;
    }

    /** What was before the day: needs no bench, whose clock would run on meanwhile. */
    void playPast() {
        setUp();
        new Past(
                        api,
                        random.split(),
                        LocalDate.now(ZoneOffset.UTC),
                        colonies,
                        List.copyOf(operators.values()))
                .play(teller);
    }

    /**
     * @param hands at the bench
     * @param eachDone is called after each wash with what became of it
     */
    List<WashRow> play(Hands hands, Consumer<WashRow> eachDone) {
        this.hands = hands;
        List<Jar> jars = Scenario.jars(random);
        hands.readTheCautions();
        hands.takeJarOut();
        List<WashRow> rows = new ArrayList<>();
        for (int i = 0; i < Scenario.WASHES.size(); i++) {
            WashRow row = wash(Scenario.WASHES.get(i), jars.get(i));
            rows.add(row);
            eachDone.accept(row);
        }
        return rows;
    }

    Map<String, String> operators() {
        return operators;
    }

    /** Where the first apiary's colonies stand. */
    String apiary() {
        return apiaries.get(0);
    }

    String spirit() {
        return spirit;
    }

    String benchId() {
        return benchId;
    }

    private void setUp() {
        for (String name : Scenario.OPERATORS) {
            operators.put(name, made("/api/operators", Map.of("name", name)));
        }
        for (Scenario.Apiary apiary : Scenario.APIARIES) {
            String id =
                    made(
                            "/api/apiaries",
                            Map.of(
                                    "name", apiary.name(),
                                    "timeZone", apiary.timeZone(),
                                    "hemisphere", apiary.hemisphere()));
            if (apiary.equals(Scenario.QUILLMOOR)) {
                Scenario.NOT_TODAY.forEach(
                        name ->
                                colonies.put(
                                        name,
                                        made(
                                                "/api/colonies",
                                                Map.of("apiaryId", id, "name", name))));
            }
            apiaries.add(id);
            for (Plan plan : Scenario.WASHES) {
                if (plan.apiary().equals(apiary)) {
                    Map<String, String> colony = Map.of("apiaryId", id, "name", plan.colony());
                    colonies.put(plan.colony(), made("/api/colonies", colony));
                }
            }
        }
        spirit = made("/api/spirit-batches", halfAndHalf());
        api.post("/api/standards", Map.of("thresholdId", Scenario.THRESHOLD));
        teller.accept("The keeper has chosen to be told above 3 mites per 100 bees.");
    }

    /** Methylated spirit and water, one to one: common practice, no source. */
    private static Map<String, Object> halfAndHalf() {
        Strength label = Strength.ofPercentVol(Spirit.ETHANOL, LABEL_PERCENT_VOL);
        Dilution mix = Dilution.of(label, 1_000, 1_000);
        double flashPoint_C = FlashPoint.of(mix.mixture()).orElseThrow().cautious_C();
        return Map.of(
                "name",
                "Half and half, first jar",
                "kind",
                "methylated spirit and water",
                "strength_pctVol",
                Math.round(mix.mixture().percentVol() * 10) / 10.0,
                "flashPoint_C",
                Math.round(flashPoint_C * 10) / 10.0,
                "volume_mL",
                Math.round(mix.volume_mL()));
    }

    String made(String path, Map<String, ?> body) {
        return api.post(path, body).path("result").path("id").asText();
    }

    private WashRow wash(Plan plan, Jar jar) {
        teller.accept(
                "%s: %s takes %d bees from a brood frame."
                        .formatted(plan.colony(), plan.operator(), jar.bees()));
        String wash = made("/api/washes", planned(plan, jar));
        double agitation_s =
                plan.course() == Course.BY_HAND ? byHand(wash) : atTheBench(plan, wash);
        count(wash, "FIRST", jar.agitate(agitation_s, random), plan);
        if (plan.secondWash()) {
            double again_s = ticketed(wash, "SECOND", SECOND_RECIPE, Course.PLAIN);
            count(wash, "SECOND", jar.agitate(again_s, random), plan);
        }
        return WashRow.of(plan.colony(), api.get("/api/washes/" + wash));
    }

    private Map<String, Object> planned(Plan plan, Jar jar) {
        Map<String, Object> wash = new HashMap<>();
        wash.put("colonyId", colonies.get(plan.colony()));
        wash.put("operatorId", operators.get(plan.operator()));
        wash.put("frame", "BROOD_NEST");
        wash.put("queenCheck", "SEEN_ELSEWHERE");
        wash.put("bees", jar.bees());
        wash.put("beeMeasure", "COUNTED");
        wash.put("spiritBatchId", spirit);
        return wash;
    }

    private double byHand(String wash) {
        teller.accept(
                "  The bench is not at hand: shaken by hand for %.0f s.".formatted(BY_HAND_S));
        api.post(
                "/api/washes/" + wash + "/passes",
                Map.of("pass", "FIRST", "handAgitation_s", BY_HAND_S, "spiritBatchId", spirit));
        return BY_HAND_S;
    }

    private double atTheBench(Plan plan, String wash) {
        return plan.course() == Course.NO_TICKET
                ? untied(wash)
                : ticketed(wash, "FIRST", FIRST_RECIPE, plan.course());
    }

    /** Sends a ticket, does what the course says at the bench, and waits for the records. */
    double ticketed(String wash, String pass, String recipe, Course course) {
        issue(wash, pass, recipe);
        hands.putJarIn();
        hands.start();
        int cycles = 1;
        switch (course) {
            case LID_OPENED -> {
                hands.awaitSecondBout();
                teller.accept("  The lid is opened in the second bout: the bench holds.");
                hands.lookUnderTheLid();
                teller.accept("  Lid closed, supply re-armed, RESTART pressed: it goes on.");
                hands.awaitEnd();
            }
            case STOPPED_EARLY -> {
                hands.awaitSecondBout();
                hands.stop();
                teller.accept("  Rain: STOP is pressed in the second bout.");
            }
            case EMERGENCY_STOP -> {
                hands.awaitSecondBout();
                hands.emergencyStopAndRecover();
                teller.accept("  Emergency stop in the second bout; the same jar is run again.");
                agitation_s(wash, pass, 1);
                issue(wash, pass, recipe);
                hands.start();
                hands.awaitEnd();
                cycles = 2;
            }
            case PLAIN, NO_TICKET, BY_HAND -> hands.awaitEnd();
        }
        hands.takeJarOut();
        return agitation_s(wash, pass, cycles);
    }

    private void issue(String wash, String pass, String recipe) {
        api.post(
                "/api/washes/" + wash + "/tickets",
                Map.of("benchId", benchId, "position", 1, "pass", pass, "recipe", recipe));
        hands.awaitTicket(UUID.fromString(wash));
    }

    /** Waits until that many cycles of the pass are in the database; what the bench really did. */
    private double agitation_s(String wash, String pass, int cycles) {
        JsonNode[] found = new JsonNode[1];
        Hands.until(
                cycles + " cycle(s) of wash " + wash + " to reach the logger",
                () -> {
                    found[0] = pass(api.get("/api/washes/" + wash), pass);
                    return found[0].path("cycles").size() == cycles;
                });
        return found[0].path("agitation_s").asDouble();
    }

    private static JsonNode pass(JsonNode document, String kind) {
        for (JsonNode pass : document.path("passes")) {
            if (pass.path("pass").path("kind").asText().equalsIgnoreCase(kind)) {
                return pass;
            }
        }
        throw new IllegalStateException("the wash has no pass " + kind);
    }

    /** Nobody sent a ticket: the cycle arrives untied and is tied to its wash afterwards. */
    private double untied(String wash) {
        hands.putJarIn();
        hands.start();
        hands.awaitEnd();
        hands.takeJarOut();
        JsonNode[] cycle = new JsonNode[1];
        Hands.until(
                "the untied cycle to reach the logger",
                () -> {
                    JsonNode rows = api.get("/api/cycles/unassigned").path("rows");
                    cycle[0] = rows.path(0);
                    return rows.size() == 1;
                });
        String id = cycle[0].path("cycle").path("id").asText(cycle[0].path("cycleId").asText());
        teller.accept("  No ticket was sent: the cycle is tied to the wash afterwards.");
        api.post(
                "/api/cycles/" + id + "/attach",
                Map.of("position", 1, "washId", wash, "pass", "FIRST"));
        return agitation_s(wash, "FIRST", 1);
    }

    private void count(String wash, String pass, int mites, Plan plan) {
        String counter = operators.get(plan.operator());
        api.post(
                "/api/washes/" + wash + "/counts",
                Map.of("pass", pass, "mites", mites, "countedBy", counter));
        teller.accept(
                "  %s counts %d %s."
                        .formatted(plan.operator(), mites, mites == 1 ? "mite" : "mites"));
        if (plan.recountBy() != null && pass.equals("FIRST")) {
            api.post(
                    "/api/washes/" + wash + "/counts",
                    Map.of(
                            "pass",
                            pass,
                            "mites",
                            mites,
                            "countedBy",
                            operators.get(plan.recountBy()),
                            "recount",
                            true,
                            "blind",
                            true));
            teller.accept("  %s counts them again, not knowing.".formatted(plan.recountBy()));
        }
    }
}
