package org.evenwash.analysis.vectors;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** Runs every case of a file of vectors and says in words what is wrong with it, or with us. */
final class VectorFile {

    private VectorFile() {}

    /**
     * @param failures empty when every case of a file that has cases was reproduced
     */
    record Outcome(int cases, List<String> failures) {

        @Override
        public String toString() {
            return (cases - failures.size()) + " of " + cases + " cases";
        }
    }

    static Outcome run(JsonNode file) {
        JsonNode cases = file.path("cases");
        if (!cases.isArray() || cases.isEmpty()) {
            return new Outcome(0, List.of("the file has no cases"));
        }
        Map<String, Kind> kinds = kinds();
        var failures = new ArrayList<String>();
        for (JsonNode oneCase : cases) {
            List<String> differences = check(oneCase, kinds);
            if (!differences.isEmpty()) {
                failures.add(oneCase.path("id").asText("a case without id") + ": " + differences);
            }
        }
        return new Outcome(cases.size(), failures);
    }

    private static Map<String, Kind> kinds() {
        var kinds = new HashMap<>(ClosedFormKinds.kinds());
        FitKinds.kinds().forEach(kinds::put);
        return kinds;
    }

    private static List<String> check(JsonNode oneCase, Map<String, Kind> kinds) {
        for (String key : List.of("id", "kind", "inputs", "expected", "tol_rel")) {
            if (!oneCase.hasNonNull(key)) {
                return List.of("has no " + key);
            }
        }
        String name = oneCase.get("kind").textValue();
        Kind kind = kinds.get(name);
        if (kind == null) {
            return List.of("unknown kind " + name);
        }
        JsonNode expected = oneCase.get("expected");
        if (!expected.isObject() || expected.isEmpty()) {
            return List.of("expects nothing");
        }
        try {
            Map<String, Object> got = kind.compute(new Inputs(oneCase.get("inputs")));
            return Comparison.differences(expected, got, oneCase.get("tol_rel").doubleValue());
        } catch (RuntimeException broken) {
            return List.of(broken.toString());
        }
    }
}
