package org.evenwash.logger.web;

import java.util.List;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultText;
import org.evenwash.analysis.threshold.Verdict;

/**
 * An infestation as a page shows it: the figure, what is known around it, its picture and its
 * verdict.
 *
 * @param figure null where there is none
 * @param range the limits in short, empty without a figure
 * @param sentence what stands beneath the figure, or in its place
 * @param picture SVG text, null without a figure
 */
public record Reading(
        String figure,
        String range,
        String sentence,
        String picture,
        Verdict.Call call,
        List<String> remarks) {

    static Reading of(Result result, Verdict.Call call, String picture, Formats formats) {
        String sentence = formats.decimals(ResultText.of(result, Quantity.INFESTATION));
        List<String> remarks = result.remarks().stream().map(formats::decimals).toList();
        if (result instanceof Result.Estimate estimate) {
            return new Reading(
                    formats.decimals(ResultText.value(estimate.value(), Quantity.INFESTATION)),
                    formats.decimals(range(estimate)),
                    formats.decimals(ResultText.interval(estimate, Quantity.INFESTATION)),
                    picture,
                    call,
                    remarks);
        }
        if (result instanceof Result.Bound bound && bound.side() == Result.Side.AT_MOST) {
            String upper = formats.decimals(ResultText.upper(bound.limit(), Quantity.INFESTATION));
            return new Reading("0", "≤ " + upper, sentence, picture, call, remarks);
        }
        String missing = result instanceof Result.NotEnoughData none ? none.needs() : sentence;
        return new Reading(null, "", missing, null, call, remarks);
    }

    /** Nothing where an end is open: the sentence says so in words. */
    private static String range(Result.Estimate estimate) {
        return Double.isFinite(estimate.lower()) && Double.isFinite(estimate.upper())
                ? ResultText.lower(estimate.lower(), Quantity.INFESTATION)
                        + "–"
                        + ResultText.upper(estimate.upper(), Quantity.INFESTATION)
                : "";
    }

    /** Class of the state colour; the word and the shape stand beside it. */
    public String tone() {
        return tone(call);
    }

    static String tone(Verdict.Call call) {
        return switch (call) {
            case ABOVE -> "danger";
            case BELOW -> "normal";
            case UNDECIDED -> "abnormal";
            case NOT_ASSESSED -> "neutral";
        };
    }
}
