package org.evenwash.logger.web;

import java.util.LinkedHashMap;
import java.util.Map;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultText;

/** A result as JSON: its kind, its numbers in full digits, its text and remarks. */
final class ResultDocument {
    private ResultDocument() {}

    /** The estimate stands under {@code value}. */
    static Map<String, Object> of(Result found, Quantity quantity) {
        return of(found, quantity, "value");
    }

    /** @param name under which the estimate stands */
    static Map<String, Object> of(Result found, Quantity quantity, String name) {
        Map<String, Object> result = new LinkedHashMap<>();
        if (found instanceof Result.Estimate estimate) {
            result.put("kind", "estimate");
            result.put(name, estimate.value());
            result.put("lower", finite(estimate.lower()));
            result.put("upper", finite(estimate.upper()));
        } else if (found instanceof Result.Bound bound) {
            result.put("kind", bound.side() == Result.Side.AT_MOST ? "atMost" : "atLeast");
            result.put("limit", bound.limit());
        } else if (found instanceof Result.NotEnoughData none) {
            result.put("kind", "notEnoughData");
            result.put("needs", none.needs());
        }
        result.put("text", ResultText.of(found, quantity));
        result.put("remarks", found.remarks());
        return result;
    }

    /** JSON has no infinity: an open end is null. */
    private static Double finite(double limit) {
        return Double.isFinite(limit) ? limit : null;
    }
}
