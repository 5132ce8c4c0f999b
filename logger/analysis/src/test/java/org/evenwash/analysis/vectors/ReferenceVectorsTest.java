package org.evenwash.analysis.vectors;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

/**
 * Every case of a file of reference vectors, computed by R and checked by Python (scipy, mpmath); each
 * case names its call and version. Another file of the same form: {@code -Devenwash.vectors=FILE}.
 */
class ReferenceVectorsTest {

    private static final String OWN_FILE = "/reference-vectors.json";

    @Test
    void everyCaseOfTheFile_isReproduced() throws IOException {
        JsonNode file = read();
        JsonNode cases = file.path("cases");
        assertThat(cases.isArray() && !cases.isEmpty()).as("the file has cases").isTrue();

        Map<String, Kind> kinds = kinds();
        var failures = new ArrayList<String>();
        for (JsonNode oneCase : cases) {
            List<String> differences = check(oneCase, kinds);
            if (!differences.isEmpty()) {
                failures.add(oneCase.path("id").asText("a case without id") + ": " + differences);
            }
        }
        int passed = cases.size() - failures.size();
        System.out.println(passed + " of " + cases.size() + " cases");
        assertThat(failures).isEmpty();
    }

    private static Map<String, Kind> kinds() {
        var kinds = new HashMap<>(ClosedFormKinds.kinds());
        FitKinds.kinds()
                .forEach(
                        (name, kind) ->
                                assertThat(kinds.put(name, kind)).as("second " + name).isNull());
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

    private static JsonNode read() throws IOException {
        String other = System.getProperty("evenwash.vectors");
        var mapper = new ObjectMapper();
        if (other != null) {
            return mapper.readTree(Files.readString(Path.of(other)));
        }
        try (InputStream own = ReferenceVectorsTest.class.getResourceAsStream(OWN_FILE)) {
            return mapper.readTree(own);
        }
    }
}
