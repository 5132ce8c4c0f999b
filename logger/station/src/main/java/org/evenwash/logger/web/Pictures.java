package org.evenwash.logger.web;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.chart.CyclePicture;
import org.evenwash.logger.chart.IntervalBar;
import org.evenwash.logger.chart.PictureSvg;
import org.evenwash.record.CycleRecord;

/** The pictures of the data that pages carry, as SVG text. */
final class Pictures {
    private Pictures() {}

    /**
     * For the page of a wash; null where there is nothing to draw.
     *
     * @param verdict null without a threshold
     */
    static String large(Result result, Verdict verdict, Shell page) {
        return IntervalBar.draw(
                        result,
                        ticks(Optional.ofNullable(verdict).map(Verdict::threshold), page),
                        IntervalBar.Size.LARGE,
                        OptionalDouble.empty())
                .map(PictureSvg::inPage)
                .orElse(null);
    }

    /**
     * For a row of a list; null where there is nothing to draw.
     *
     * @param end common to the list, so that its bars compare
     */
    static String small(
            Result result, Optional<Threshold> threshold, OptionalDouble end, Shell page) {
        return IntervalBar.draw(result, ticks(threshold, page), IntervalBar.Size.SMALL, end)
                .map(PictureSvg::inPage)
                .orElse(null);
    }

    private static List<IntervalBar.Tick> ticks(Optional<Threshold> threshold, Shell page) {
        if (threshold.isEmpty() || threshold.get().per100Bees().isEmpty()) {
            return List.of();
        }
        double per100Bees = threshold.get().per100Bees().getAsDouble();
        return List.of(new IntervalBar.Tick(per100Bees, page.t("chart.threshold")));
    }

    /** See {@link CyclePicture}. */
    static String strip(CycleRecord record) {
        return PictureSvg.inPage(CyclePicture.of(record));
    }
}
