package org.evenwash.logger.web;

import java.util.LinkedHashMap;
import java.util.Map;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultText;
import org.evenwash.logger.wash.WashSheet;

/** One wash as JSON: everything on its sheet, with the result in full digits and in words. */
record WashDocument(WashSheet sheet, Map<String, Object> infestation) {

    static WashDocument of(WashSheet sheet) {
        Map<String, Object> result = new LinkedHashMap<>();
        Result found = sheet.infestation();
        if (found instanceof Result.Estimate estimate) {
            result.put("kind", "estimate");
            result.put("per100Bees", estimate.value());
            result.put("lower", estimate.lower());
            result.put("upper", estimate.upper());
        } else if (found instanceof Result.Bound bound) {
            result.put("kind", bound.side() == Result.Side.AT_MOST ? "atMost" : "atLeast");
            result.put("limit", bound.limit());
        } else if (found instanceof Result.NotEnoughData none) {
            result.put("kind", "notEnoughData");
            result.put("needs", none.needs());
        }
        result.put("text", ResultText.of(found, Quantity.INFESTATION));
        result.put("remarks", found.remarks());
        return new WashDocument(sheet, result);
    }
}
