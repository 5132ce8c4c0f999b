package org.evenwash.demo;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.function.Consumer;
import java.util.stream.IntStream;
import org.evenwash.demo.Life.Happening;

/**
 * The months before the day that is played: washes shaken by hand, entered with their days as from a
 * notebook, and what happened to the colonies.
 */
final class Past {
    private static final double BY_HAND_S = 60;
    private static final int DAYS_A_WEEK = 7;

    /** Colonies of a yard differ far more than chance would have it; no two lives are alike here. */
    private static final List<Life> LIVES =
            List.of(
                    // Grows steadily and is not treated: when does it meet the threshold?
                    new Life("Sorrel", 0.25, 0.115, every(1, 17, 1), List.of()),
                    // Four treated alike, washed before and after.
                    new Life(
                            "Teasel",
                            2.6,
                            0.1,
                            List.of(18, 16, 14, 12, 10, 5, 3),
                            List.of(Life.treatment("formic acid", 9, 2, 0.07))),
                    new Life(
                            "Borage",
                            3.4,
                            0.07,
                            List.of(16, 13, 10, 5, 2),
                            List.of(Life.treatment("formic acid", 9, 2, 0.12))),
                    new Life(
                            "Comfrey",
                            3.8,
                            0.06,
                            List.of(10, 5),
                            List.of(Life.treatment("formic acid", 9, 2, 0.06))),
                    new Life(
                            "Vetch",
                            2.9,
                            0.08,
                            List.of(10, 6),
                            List.of(Life.treatment("formic acid", 9, 2, 0.1))),
                    // Left untreated at the same time.
                    new Life("Melilot", 2.2, 0.03, List.of(16, 13, 10, 5, 2), List.of()),
                    new Life(
                            "Bugle",
                            2.6,
                            0.03,
                            List.of(14, 10, 5, 3),
                            List.of(new Happening("SWARM", 7, 0, 0.9, "prime swarm, hived"))),
                    new Life(
                            "Yarrow",
                            1.5,
                            0.08,
                            every(2, 16, 2),
                            List.of(new Happening("REQUEEN", 8, 0, 0.8, "bred queen, marked"))),
                    new Life(
                            "Tansy",
                            1.1,
                            0.07,
                            every(2, 18, 2),
                            List.of(new Happening("SPLIT", 11, 0, 0.75, "Sedge"))),
                    new Life("Sedge", 0.5, 0.08, List.of(8, 5, 2), List.of()),
                    // Its second wash is the one of today.
                    new Life(
                            "Clover",
                            2.0,
                            0.07,
                            List.of(12, 8, 4),
                            List.of(Life.treatment("oxalic acid", 3, 0, 0.1))),
                    new Life("Fennel", 0.9, 0.05, List.of(10, 4), List.of()),
                    new Life("Mallow", 0.2, 0.06, List.of(10, 4), List.of()));

    private final Api api;
    private final SplittableRandom random;
    private final LocalDate today;
    private final Map<String, String> colonies;
    private final List<String> operators;

    /**
     * @param colonies ids by name; a colony made from another is added
     * @param operators their ids
     */
    Past(
            Api api,
            SplittableRandom random,
            LocalDate today,
            Map<String, String> colonies,
            List<String> operators) {
        this.api = api;
        this.random = random;
        this.today = today;
        this.colonies = colonies;
        this.operators = operators;
    }

    private static List<Integer> every(int weeks, int from, int to) {
        return IntStream.iterate(from, week -> week >= to, week -> week - weeks).boxed().toList();
    }

    /** True mites per 100 bees of a colony today. */
    static double today(String colony) {
        return LIVES.stream()
                .filter(life -> life.colony().equals(colony))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("no life for " + colony))
                .per100Bees(0);
    }

    void play(Consumer<String> teller) {
        int washes = 0;
        for (int week = Life.WEEKS; week > 0; week--) {
            for (Life life : LIVES) {
                if (life.washed().contains(week)) {
                    wash(life, week, operators.get(washes++ % operators.size()));
                }
                for (Happening happening : life.happenings()) {
                    if (happening.weeksAgo() == week) {
                        happened(life, happening);
                    }
                }
            }
        }
        teller.accept(
                "From the notebook: %d washes of the last %d weeks, shaken by hand."
                        .formatted(washes, Life.WEEKS));
    }

    private void wash(Life life, int weeksAgo, String operator) {
        // Not all on the same day of the week.
        int days = weeksAgo * DAYS_A_WEEK - random.nextInt(3);
        Jar jar = Jar.sample(life.per100Bees(days / (double) DAYS_A_WEEK), random);
        Map<String, Object> wash = new HashMap<>();
        wash.put("colonyId", colonies.get(life.colony()));
        wash.put("sampledOn", today.minusDays(days).toString());
        wash.put("operatorId", operator);
        wash.put("frame", "BROOD_NEST");
        wash.put("queenCheck", "SEEN_ELSEWHERE");
        wash.put("bees", jar.bees());
        wash.put("beeMeasure", "COUNTED");
        String id = api.post("/api/washes", wash).path("result").path("id").asText();
        api.post(
                "/api/washes/" + id + "/passes",
                Map.of("pass", "FIRST", "handAgitation_s", BY_HAND_S));
        api.post(
                "/api/washes/" + id + "/counts",
                Map.of("mites", jar.agitate(BY_HAND_S, random), "countedBy", operator));
    }

    private void happened(Life life, Happening happening) {
        LocalDate onDay = today.minusDays((long) happening.weeksAgo() * DAYS_A_WEEK - 3);
        Map<String, Object> event = new HashMap<>();
        event.put("event", happening.kind());
        event.put("onDay", onDay.toString());
        switch (happening.kind()) {
            case "TREATMENT" -> {
                event.put("substance", happening.with());
                if (happening.lasts() > 0) {
                    event.put(
                            "untilDay",
                            onDay.plusDays((long) happening.lasts() * DAYS_A_WEEK).toString());
                }
            }
            case "SPLIT" -> event.put("otherColonyId", newColony(life.colony(), happening.with()));
            default -> event.put("remarks", happening.with());
        }
        api.post("/api/colonies/" + colonies.get(life.colony()) + "/events", event);
    }

    /** Beside the colony that it was made from. */
    private String newColony(String from, String name) {
        JsonNode mother = api.get("/api/colonies/" + colonies.get(from)).path("colony");
        String id =
                api.post(
                                "/api/colonies",
                                Map.of("apiaryId", mother.path("apiaryId").asText(), "name", name))
                        .path("result")
                        .path("id")
                        .asText();
        colonies.put(name, id);
        return id;
    }
}
