package org.evenwash.logger.web;

import java.util.List;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultText;

/**
 * Any result as a page shows it.
 *
 * @param figure the number alone, null where there is none
 * @param unit of the figure
 * @param around its interval, or what is needed in place of a figure
 * @param remarks in full sentences
 */
public record ResultLine(String figure, String unit, String around, List<String> remarks) {

    static ResultLine of(Result result, Quantity quantity, Shell page) {
        Formats formats = page.formats();
        if (result instanceof Result.Estimate estimate) {
            return new ResultLine(
                    formats.decimals(ResultText.value(estimate.value(), quantity)),
                    quantity.unit(),
                    formats.decimals(ResultText.interval(estimate, quantity)),
                    said(result, formats));
        }
        if (result instanceof Result.NotEnoughData none) {
            return new ResultLine(
                    null, "", page.t("study.needs", none.needs()), said(result, formats));
        }
        return new ResultLine(
                null, "", formats.decimals(ResultText.of(result, quantity)), said(result, formats));
    }

    private static List<String> said(Result result, Formats formats) {
        return result.remarks().stream().map(formats::decimals).toList();
    }
}
