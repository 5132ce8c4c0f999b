package org.evenwash.logger.web;

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

    static StretchWords of(DatedStretch stretch, Threshold threshold, Shell page) {
        List<String> sentences = new ArrayList<>();
        List<String> remarks = new ArrayList<>();
        growth(stretch, page, sentences);
        remarks.addAll(stretch.trend().growth().remarks());
        if (stretch.told() && threshold != null && stretch.crossing().isPresent()) {
            sentences.add(crossing(stretch, threshold, page));
            stretch.crossing().get().remarks().stream()
                    .filter(remark -> !remark.startsWith("The line "))
                    .forEach(remarks::add);
        }
        stretch.trend()
                .infestation()
                .ifPresent(
                        none -> {
                            sentences.add(
                                    page.t("trend.none", text(none, Quantity.INFESTATION, page)));
                        });
        return new StretchWords(
                stretch.from(),
                stretch.to(),
                stretch.trend().samples().size(),
                stretch.mites(),
                sentences,
                remarks);
    }

    private static void growth(DatedStretch stretch, Shell page, List<String> sentences) {
        Result growth = stretch.trend().growth();
        if (growth instanceof Result.NotEnoughData none) {
            sentences.add(page.t("trend.notTold", none.needs()));
            return;
        }
        sentences.add(page.t("trend.growth", text(growth, Quantity.GROWTH, page)));
        Result doubling = stretch.trend().doubling();
        if (doubling instanceof Result.Estimate) {
            sentences.add(
                    page.t(
                            stretch.falls() ? "trend.halves" : "trend.doubles",
                            text(doubling, Quantity.WEEKS, page)));
        }
    }

    private static String crossing(DatedStretch stretch, Threshold threshold, Shell page) {
        String limit = StandardsPage.limit(threshold, page);
        if (stretch.meeting().isPresent()) {
            DatedStretch.Meeting meeting = stretch.meeting().get();
            boolean ahead = meeting.day().isAfter(stretch.to());
            String day = page.formats().day(meeting.day());
            String earliest = page.formats().day(meeting.earliest());
            if (meeting.latest().isEmpty()) {
                return page.t("trend.meets.open", limit, day, earliest);
            }
            String latest = page.formats().day(meeting.latest().get());
            return page.t(ahead ? "trend.meets" : "trend.met", limit, day, earliest, latest);
        }
        if (stretch.notBefore().isPresent()) {
            return page.t("trend.notBefore", limit, page.formats().day(stretch.notBefore().get()));
        }
        String needs =
                stretch.crossing().orElse(null) instanceof Result.NotEnoughData none
                        ? none.needs()
                        : "";
        return page.t("trend.cannotTell", limit, needs);
    }

    private static String text(Result result, Quantity quantity, Shell page) {
        return page.formats().decimals(ResultText.of(result, quantity));
    }
}
