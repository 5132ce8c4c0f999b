package org.evenwash.logger.cli;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import java.util.LinkedHashMap;
import java.util.Map;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.Result.Side;

/** Results as JSON, in full precision: what is not known is left out, never written as 0. */
final class ResultJson {
    private static final ObjectMapper MAPPER =
            new ObjectMapper().enable(SerializationFeature.INDENT_OUTPUT);

    private ResultJson() {}

    /** {@code kind} is estimate, at-most, at-least or not-enough-data. */
    static Map<String, Object> of(Result result) {
        Map<String, Object> json = new LinkedHashMap<>();
        if (result instanceof Estimate estimate) {
            json.put("kind", "estimate");
            json.put("value", estimate.value());
            putFinite(json, "lower", estimate.lower());
            putFinite(json, "upper", estimate.upper());
        } else if (result instanceof Bound bound) {
            boolean most = bound.side() == Side.AT_MOST;
            json.put("kind", most ? "at-most" : "at-least");
            json.put(most ? "upper" : "lower", bound.limit());
        } else if (result instanceof NotEnoughData none) {
            json.put("kind", "not-enough-data");
            json.put("needs", none.needs());
        }
        json.put("remarks", result.remarks());
        return json;
    }

    private static void putFinite(Map<String, Object> json, String name, double limit) {
        if (Double.isFinite(limit)) {
            json.put(name, limit);
        }
    }

    static String text(Object json) {
        try {
            return MAPPER.writeValueAsString(json);
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("maps of numbers and texts have a JSON form", e);
        }
    }
}
