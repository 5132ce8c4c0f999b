package org.evenwash.logger.web;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.chart.CycleStrip;
import org.evenwash.logger.chart.IntervalBar;
import org.evenwash.logger.chart.PictureSvg;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.RecipeSheet;

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

    /** The largest finite limit of a list. */
    static OptionalDouble commonEnd(List<Result> results) {
        return results.stream().mapToDouble(Pictures::end).filter(end -> end > 0).max();
    }

    private static double end(Result result) {
        if (result instanceof Result.Estimate estimate) {
            return Double.isFinite(estimate.upper()) ? estimate.upper() : estimate.value();
        }
        return result instanceof Result.Bound bound ? bound.limit() : 0;
    }

    /** What was asked as outlines, what was reached as filled blocks, interruptions as cuts. */
    static String strip(CycleRecord record) {
        List<CycleStrip.Asked> asked = new ArrayList<>();
        List<CycleStrip.Reached> reached = new ArrayList<>();
        for (CycleRecord.BoutDone bout : record.bouts()) {
            asked.add(
                    new CycleStrip.Asked(
                            bout.startedAfter_s(),
                            bout.plannedAgitation_s(),
                            bout.askedSpeed_rpm()));
            if (bout.meanSpeed_rpm() != null) {
                reached.add(
                        new CycleStrip.Reached(
                                bout.startedAfter_s(), bout.agitation_s(), bout.meanSpeed_rpm()));
            }
        }
        double end_s = addNeverBegun(record, asked);
        List<CycleStrip.Interruption> cuts =
                record.interruptions().stream()
                        .map(
                                one ->
                                        new CycleStrip.Interruption(
                                                one.startedAfter_s(), one.length_s(), one.reason()))
                        .toList();
        double total_s = Math.max(1, Math.max(record.duration_s(), end_s));
        return PictureSvg.inPage(
                CycleStrip.draw(
                        new CycleStrip.Cycle(
                                record.recipe().name(),
                                asked,
                                trace(record.trace()),
                                reached,
                                cuts,
                                OptionalDouble.empty(),
                                total_s)));
    }

    /** Bouts of the recipe that a cycle cut short never came to; gives where the last would end. */
    private static double addNeverBegun(CycleRecord record, List<CycleStrip.Asked> asked) {
        List<RecipeSheet.Bout> bouts = record.recipe().bouts();
        double from_s = record.duration_s();
        int all = bouts.size() * record.recipe().repeats();
        for (int i = record.bouts().size(); i < all; i++) {
            RecipeSheet.Bout bout = bouts.get(i % bouts.size());
            asked.add(new CycleStrip.Asked(from_s, bout.agitation_s(), bout.speed_rpm()));
            from_s += bout.agitation_s() + bout.rest_s();
        }
        return from_s;
    }

    private static List<CycleStrip.Reading> trace(CycleRecord.SpeedTrace trace) {
        List<CycleStrip.Reading> readings = new ArrayList<>();
        for (int i = 0; i < trace.speed_rpm().size(); i++) {
            double speed_rpm = trace.speed_rpm().get(i);
            if (speed_rpm != CycleRecord.SpeedTrace.NO_READING) {
                readings.add(new CycleStrip.Reading(i * trace.interval_s(), speed_rpm));
            }
        }
        return readings;
    }
}
