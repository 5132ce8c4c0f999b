package org.evenwash.logger.report;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.Result;
import org.evenwash.logger.chart.Drawing;
import org.evenwash.logger.chart.TrendChart;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.store.CountedWash;
import org.evenwash.logger.wash.ColonyHistory;
import org.evenwash.logger.wash.Infestations;

/** A colony's history as a chart. */
public final class TrendPicture {
    private TrendPicture() {}

    /** Empty without a result. */
    public static Optional<Drawing> of(ColonyHistory history, boolean narrow, Wording wording) {
        if (history.washes().isEmpty()) {
            return Optional.empty();
        }
        List<List<TrendChart.Fitted>> lines = new ArrayList<>();
        for (int i = 0; i < history.stretches().size(); i++) {
            boolean onward = history.latest().isPresent() && i == history.stretches().size() - 1;
            TrendChart.line(history.stretches().get(i), onward).ifPresent(lines::add);
        }
        return Optional.of(
                TrendChart.draw(
                        new TrendChart.Trend(
                                wording.say("trend.picture", history.colony().name()),
                                history.washes().stream().map(TrendPicture::wash).toList(),
                                lines,
                                threshold(history, wording),
                                history.latest().flatMap(TrendChart::crossing),
                                marks(history, wording)),
                        narrow,
                        wording.locale()));
    }

    private static TrendChart.Wash wash(CountedWash wash) {
        Result result = Infestations.of(wash);
        if (result instanceof Result.Estimate estimate) {
            return new TrendChart.Wash(
                    wash.sampledOn(), estimate.value(), estimate.lower(), estimate.upper());
        }
        double upper = result instanceof Result.Bound bound ? bound.limit() : wash.per100Bees();
        return new TrendChart.Wash(wash.sampledOn(), wash.per100Bees(), 0, upper);
    }

    private static Optional<TrendChart.Threshold> threshold(
            ColonyHistory history, Wording wording) {
        return history.threshold()
                .filter(one -> one.per100Bees().isPresent())
                .map(
                        one ->
                                new TrendChart.Threshold(
                                        one.per100Bees().getAsDouble(),
                                        wording.say("chart.threshold")));
    }

    /** What happened since the first wash shown; the last day of what lasted has a line without a name. */
    private static List<TrendChart.Mark> marks(ColonyHistory history, Wording wording) {
        List<TrendChart.Mark> marks = new ArrayList<>();
        LocalDate from = history.washes().get(0).sampledOn();
        for (ColonyEvent event : history.events()) {
            boolean shown =
                    switch (event.kind()) {
                        case RENAME, MOVE, DEATH -> false;
                        case REQUEEN, SPLIT, MERGE, SWARM, TREATMENT ->
                                !event.lastDay().isBefore(from);
                    };
            if (shown) {
                marks.add(new TrendChart.Mark(event.onDay(), name(event, wording)));
                if (event.untilDay() != null && event.untilDay().isAfter(event.onDay())) {
                    marks.add(new TrendChart.Mark(event.untilDay(), ""));
                }
            }
        }
        return marks;
    }

    private static String name(ColonyEvent event, Wording wording) {
        return event.kind() == ColonyEvent.Kind.TREATMENT
                ? event.substance()
                : wording.say(event.kind());
    }
}
