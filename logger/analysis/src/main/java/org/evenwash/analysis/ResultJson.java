package org.evenwash.analysis;

import java.util.LinkedHashMap;
import java.util.Map;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.Result.Side;

/** Results as JSON, the same everywhere, in full precision: what is not known is left out, never written as 0. */
public final class ResultJson {
    private ResultJson() {}

    /** {@code kind} is estimate, at-most, at-least or not-enough-data. */
    public static Map<String, Object> of(Result result, Quantity quantity) {
        Map<String, Object> json = new LinkedHashMap<>();
        if (result instanceof Estimate estimate) {
            json.put("kind", "estimate");
            json.put("value", estimate.value());
            putFinite(json, "lower", estimate.lower());
            putFinite(json, "upper", estimate.upper());
            json.put("unit", quantity.unit());
        } else if (result instanceof Bound bound) {
            boolean most = bound.side() == Side.AT_MOST;
            json.put("kind", most ? "at-most" : "at-least");
            json.put(most ? "upper" : "lower", bound.limit());
            json.put("unit", quantity.unit());
        } else if (result instanceof NotEnoughData none) {
            json.put("kind", "not-enough-data");
            json.put("needs", none.needs());
        }
        json.put("text", ResultText.of(result, quantity));
        json.put("remarks", result.remarks());
        return json;
    }

    private static void putFinite(Map<String, Object> json, String name, double limit) {
        if (Double.isFinite(limit)) {
            json.put(name, limit);
        }
    }
}
