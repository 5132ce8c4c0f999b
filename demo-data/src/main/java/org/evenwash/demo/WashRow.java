package org.evenwash.demo;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultText;

/**
 * One wash as the logger tells it.
 *
 * @param cycleIds of the first wash; empty when shaken by hand
 * @param asked_s agitation that the recipes asked for, null when shaken by hand
 * @param checks how many protocol checks came out how, in words
 */
record WashRow(
        String colony,
        List<String> cycleIds,
        Double asked_s,
        double done_s,
        int mites,
        double bees,
        Double per100,
        Double lower,
        Double upper,
        String checks) {

    static WashRow of(String colony, JsonNode document) {
        JsonNode first = document.path("passes").path(0);
        List<String> cycles = new ArrayList<>();
        Double asked_s = null;
        for (JsonNode cycle : first.path("cycles")) {
            cycles.add(cycle.path("id").asText());
            asked_s = (asked_s == null ? 0 : asked_s) + cycle.path("plannedAgitation_s").asDouble();
        }
        JsonNode infestation = document.path("infestation");
        boolean none = infestation.path("kind").asText().equals("atMost");
        return new WashRow(
                colony,
                cycles,
                asked_s,
                first.path("agitation_s").asDouble(),
                first.path("counts").path(0).path("mites").asInt(),
                document.path("wash").path("bees").asDouble(),
                none ? (Double) 0.0 : number(infestation.path("per100Bees")),
                none ? (Double) 0.0 : number(infestation.path("lower")),
                number(none ? infestation.path("limit") : infestation.path("upper")),
                checks(document.path("checks")));
    }

    private static Double number(JsonNode node) {
        return node.isNumber() ? node.asDouble() : null;
    }

    private static String checks(JsonNode checks) {
        Map<String, Integer> outcomes = new TreeMap<>();
        for (JsonNode check : checks) {
            outcomes.merge(check.path("outcome").asText(), 1, Integer::sum);
        }
        List<String> words = new ArrayList<>();
        outcomes.forEach(
                (outcome, n) ->
                        words.add(n + " " + outcome.toLowerCase(Locale.ROOT).replace('_', ' ')));
        return String.join(", ", words);
    }

    /** "2.30 (0.92–4.75)", "0, up to 1.23". */
    String per100Text() {
        if (per100 == null) {
            return "–";
        }
        if (mites == 0) {
            return "0, up to " + ResultText.upper(upper, Quantity.INFESTATION);
        }
        Result.Estimate estimate = new Result.Estimate(per100, lower, upper);
        return "%s (%s–%s)"
                .formatted(
                        ResultText.value(estimate.value(), Quantity.INFESTATION),
                        ResultText.lower(lower, Quantity.INFESTATION),
                        ResultText.upper(upper, Quantity.INFESTATION));
    }
}
