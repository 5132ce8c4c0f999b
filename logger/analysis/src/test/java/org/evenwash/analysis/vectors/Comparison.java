package org.evenwash.analysis.vectors;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;

/** Compares computed fields with expected ones and says in words where they differ. */
final class Comparison {

    private static final double AT_ZERO = 1e-9;

    private Comparison() {}

    /** Empty when every expected field was computed and agrees. */
    static List<String> differences(JsonNode expected, Map<String, Object> got, double relative) {
        var differences = new ArrayList<String>();
        for (var field : expected.properties()) {
            String name = field.getKey();
            if (!got.containsKey(name)) {
                differences.add(name + " was not computed");
            } else if (!agrees(field.getValue(), got.get(name), relative)) {
                differences.add(
                        name + ": expected " + field.getValue() + ", computed " + got.get(name));
            }
        }
        return differences;
    }

    private static boolean agrees(JsonNode expected, Object got, double relative) {
        if (got instanceof Kind.MonteCarlo drawn) {
            double p = expected.doubleValue();
            double chance = 4 * Math.sqrt(p * (1 - p) / drawn.draws()) + 1.0 / (drawn.draws() + 1);
            return Math.abs(drawn.share() - p) <= chance;
        }
        Object plain = plain(got);
        if (expected.isNumber()) {
            if (plain instanceof Integer || plain instanceof Long) {
                return ((Number) plain).longValue() == expected.doubleValue();
            }
            return plain instanceof Number number
                    && closeEnough(expected.doubleValue(), number.doubleValue(), relative);
        }
        return Objects.equals(
                plain,
                expected.isNull()
                        ? null
                        : expected.isBoolean()
                                ? (Object) expected.booleanValue()
                                : expected.textValue());
    }

    private static boolean closeEnough(double target, double got, double relative) {
        return target == 0
                ? Math.abs(got) <= AT_ZERO
                : Math.abs(got - target) <= relative * Math.abs(target);
    }

    private static Object plain(Object got) {
        if (got instanceof Double number && number.isNaN()) {
            return null;
        }
        if (got instanceof Double number && number.isInfinite()) {
            return number > 0 ? "Infinity" : "-Infinity";
        }
        return got;
    }
}
