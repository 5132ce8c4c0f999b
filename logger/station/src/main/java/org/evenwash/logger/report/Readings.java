package org.evenwash.logger.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultText;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.chart.IntervalBar;
import org.evenwash.logger.chart.Picture;
import org.evenwash.logger.report.Block.Paragraph;
import org.evenwash.logger.report.Block.Tone;

/** Infestations in words, figures and pictures, as the pages show them. */
final class Readings {
    private final Wording wording;

    Readings(Wording wording) {
        this.wording = wording;
    }

    /**
     * The figure, its picture and the verdict.
     *
     * @param beneath what follows the verdict
     */
    List<Block> large(Result result, Verdict verdict, List<String> beneath) {
        List<Block> blocks = new ArrayList<>();
        if (result instanceof Result.NotEnoughData none) {
            blocks.add(new Paragraph(wording.say("wash.none"), Tone.PLAIN));
            blocks.add(new Paragraph(wording.say("wash.needs", none.needs()), Tone.PLAIN));
            return blocks;
        }
        blocks.add(new Block.Figure(figure(result), wording.say("wash.per100"), limits(result)));
        picture(result, threshold(verdict), IntervalBar.Size.LARGE, OptionalDouble.empty())
                .ifPresent(one -> blocks.add(new Block.Art(one)));
        blocks.add(
                new Paragraph(
                        verdict == null
                                ? wording.say("wash.thresholds.none")
                                : verdict.call().shape() + " " + wording.decimals(verdict.words()),
                        Tone.PLAIN));
        beneath.forEach(words -> blocks.add(new Paragraph(words, Tone.PLAIN)));
        result.remarks()
                .forEach(one -> blocks.add(new Paragraph(wording.decimals(one), Tone.MUTED)));
        return blocks;
    }

    static Optional<Threshold> threshold(Verdict verdict) {
        return Optional.ofNullable(verdict).map(Verdict::threshold);
    }

    /** Shape and word, never the one without the other. */
    static String call(Verdict.Call call) {
        return call.shape() + " " + call.word();
    }

    /** Zero mites read 0: the limits say what is known. */
    String figure(Result result) {
        return result instanceof Result.Estimate estimate
                ? wording.decimals(ResultText.value(estimate.value(), Quantity.INFESTATION))
                : result instanceof Result.Bound ? "0" : "";
    }

    private String limits(Result result) {
        return wording.decimals(
                result instanceof Result.Estimate estimate
                        ? ResultText.interval(estimate, Quantity.INFESTATION)
                        : ResultText.of(result, Quantity.INFESTATION));
    }

    /** The limits for a table, such as 0.08–2.41 or ≤ 1.23. */
    String range(Result result) {
        if (result instanceof Result.Estimate estimate) {
            return wording.decimals(
                    ResultText.lower(estimate.lower(), Quantity.INFESTATION)
                            + "–"
                            + ResultText.upper(estimate.upper(), Quantity.INFESTATION));
        }
        return result instanceof Result.Bound bound
                ? "≤ " + wording.decimals(ResultText.upper(bound.limit(), Quantity.INFESTATION))
                : "";
    }

    Optional<Picture> picture(
            Result result,
            Optional<Threshold> threshold,
            IntervalBar.Size size,
            OptionalDouble end) {
        return IntervalBar.draw(result, ticks(threshold), size, end);
    }

    List<IntervalBar.Tick> ticks(Optional<Threshold> threshold) {
        return threshold.stream()
                .filter(one -> one.per100Bees().isPresent())
                .map(
                        one ->
                                new IntervalBar.Tick(
                                        one.per100Bees().getAsDouble(),
                                        wording.say("chart.threshold")))
                .toList();
    }

    /** In full digits, and in the words that are printed. */
    static Map<String, Object> json(Result result, Quantity quantity) {
        Map<String, Object> json = new LinkedHashMap<>();
        if (result instanceof Result.Estimate estimate) {
            json.put("value", estimate.value());
            json.put("lower", finite(estimate.lower()));
            json.put("upper", finite(estimate.upper()));
        } else if (result instanceof Result.Bound bound) {
            json.put(bound.side() == Result.Side.AT_MOST ? "upper" : "lower", bound.limit());
        }
        json.put("text", ResultText.of(result, quantity));
        json.put("remarks", result.remarks());
        return json;
    }

    private static Double finite(double limit) {
        return Double.isFinite(limit) ? limit : null;
    }

    /** Id, value and source of a threshold in one line. */
    String threshold(Threshold threshold) {
        return wording.say(
                "report.threshold.says",
                threshold.id(),
                wording.amount(threshold.value()),
                threshold.unit().words(),
                threshold.source().toString());
    }

    static String edition(Threshold threshold) {
        return threshold.id() + ", " + threshold.source().edition();
    }
}
