package org.evenwash.logger.report;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultText;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.trend.DatedStretch;

/**
 * A stretch of a colony's series in words.
 *
 * @param sentences growth, doubling, and when the threshold is met, as far as each can be told
 * @param remarks what a reader needs beside them
 */
public record StretchWords(
        LocalDate from,
        LocalDate to,
        int washes,
        int mites,
        List<String> sentences,
        List<String> remarks) {

    public static StretchWords of(DatedStretch stretch, Threshold threshold, Wording wording) {
        List<String> sentences = new ArrayList<>();
        List<String> remarks = new ArrayList<>();
        growth(stretch, wording, sentences);
        remarks.addAll(stretch.trend().growth().remarks());
        if (stretch.told() && threshold != null && stretch.crossing().isPresent()) {
            sentences.add(crossing(stretch, threshold, wording));
            stretch.crossing().get().remarks().stream()
                    .filter(remark -> !remark.startsWith("The line "))
                    .forEach(remarks::add);
        }
        stretch.trend()
                .infestation()
                .ifPresent(
                        none -> {
                            sentences.add(
                                    wording.say(
                                            "trend.none",
                                            text(none, Quantity.INFESTATION, wording)));
                        });
        return new StretchWords(
                stretch.from(),
                stretch.to(),
                stretch.trend().samples().size(),
                stretch.mites(),
                sentences,
                remarks);
    }

    private static void growth(DatedStretch stretch, Wording wording, List<String> sentences) {
        Result growth = stretch.trend().growth();
        if (growth instanceof Result.NotEnoughData none) {
            sentences.add(wording.say("trend.notTold", none.needs()));
            return;
        }
        sentences.add(wording.say("trend.growth", text(growth, Quantity.GROWTH, wording)));
        Result doubling = stretch.trend().doubling();
        if (doubling instanceof Result.Estimate) {
            sentences.add(
                    wording.say(
                            stretch.falls() ? "trend.halves" : "trend.doubles",
                            text(doubling, Quantity.WEEKS, wording)));
        }
    }

    private static String crossing(DatedStretch stretch, Threshold threshold, Wording wording) {
        String limit = ThresholdWords.of(threshold, wording);
        if (stretch.meeting().isPresent()) {
            DatedStretch.Meeting meeting = stretch.meeting().get();
            boolean ahead = meeting.day().isAfter(stretch.to());
            String day = wording.day(meeting.day());
            String earliest = wording.day(meeting.earliest());
            if (meeting.latest().isEmpty()) {
                return wording.say("trend.meets.open", limit, day, earliest);
            }
            String latest = wording.day(meeting.latest().get());
            return wording.say(ahead ? "trend.meets" : "trend.met", limit, day, earliest, latest);
        }
        if (stretch.notBefore().isPresent()) {
            return wording.say("trend.notBefore", limit, wording.day(stretch.notBefore().get()));
        }
        String needs =
                stretch.crossing().orElse(null) instanceof Result.NotEnoughData none
                        ? none.needs()
                        : "";
        return wording.say("trend.cannotTell", limit, needs);
    }

    private static String text(Result result, Quantity quantity, Wording wording) {
        return wording.decimals(ResultText.of(result, quantity));
    }
}
