package org.evenwash.logger.web;

import java.util.LinkedHashMap;
import java.util.Map;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultText;
import org.evenwash.logger.wash.WashSheet;

/** One wash as JSON: everything on its sheet, with the result in full digits and in words. */
final class WashDocument {
    private WashDocument() {}

    static Map<String, Object> of(WashSheet sheet) {
        Map<String, Object> document = new LinkedHashMap<>();
        document.put("wash", sheet.wash());
        document.put("colony", sheet.colony());
        document.put("apiary", sheet.apiary());
        document.put("operator", sheet.operator());
        document.put("infestation", infestation(sheet.infestation()));
        document.put("verdict", verdict(sheet));
        document.put("protocol", sheet.protocol().id());
        document.put("protocolEdition", sheet.protocol().edition());
        document.put("checks", sheet.checks());
        document.put("passes", sheet.passes());
        document.put("tickets", sheet.tickets());
        document.put("corrections", sheet.corrections());
        document.put("flags", sheet.flags());
        document.put("demonstration", sheet.demonstration());
        return document;
    }

    private static Map<String, Object> infestation(Result found) {
        Map<String, Object> result = new LinkedHashMap<>();
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
        return result;
    }

    /** Null without a threshold. */
    private static Map<String, Object> verdict(WashSheet sheet) {
        if (sheet.verdict() == null) {
            return null;
        }
        return Map.of(
                "call", sheet.verdict().call().word(),
                "words", sheet.verdict().words(),
                "threshold", sheet.verdict().threshold().id(),
                "edition", sheet.verdict().threshold().source().edition());
    }
}
