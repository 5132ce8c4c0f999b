package org.evenwash.logger.cli;

import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.Side;
import org.evenwash.analysis.ResultText;

/** A result over two cells of a table, whose heading has the unit. */
final class Cells {
    private Cells() {}

    /** The estimate; a bound on mites shows the 0 that was counted, any other none. */
    static String value(Result result, Quantity quantity) {
        if (result instanceof Estimate estimate) {
            return ResultText.value(estimate.value(), quantity);
        }
        boolean noneFound =
                quantity == Quantity.INFESTATION
                        && result instanceof Bound bound
                        && bound.side() == Side.AT_MOST;
        return noneFound ? "0" : "";
    }

    static String interval(Result result, Quantity quantity) {
        if (result instanceof Estimate estimate) {
            return ResultText.interval(estimate, quantity).replaceFirst("^95 %: ", "");
        }
        if (result instanceof Bound bound) {
            return bound.side() == Side.AT_MOST
                    ? "up to " + ResultText.upper(bound.limit(), quantity)
                    : "at least " + ResultText.lower(bound.limit(), quantity);
        }
        return "not enough data";
    }
}
