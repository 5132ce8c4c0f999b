package org.evenwash.logger.web;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.NavigableMap;
import java.util.OptionalDouble;
import org.evenwash.logger.chart.CycleStrip;
import org.evenwash.logger.chart.PictureSvg;
import org.evenwash.logger.intake.LiveTrace;
import org.evenwash.record.LiveReading;
import org.evenwash.record.RecipeSheet;

/** The strip of a cycle that is going on. */
final class LiveStrip {
    private LiveStrip() {}

    /** SVG text. */
    static String draw(RecipeSheet recipe, LiveReading live, LiveTrace trace) {
        List<CycleStrip.Reading> readings =
                trace.points().stream()
                        .map(point -> new CycleStrip.Reading(point.at_s(), point.speed_rpm()))
                        .toList();
        double total_s = Math.max(1, live.elapsed_s() + live.timeLeft_s());
        return PictureSvg.inPage(
                CycleStrip.draw(
                        new CycleStrip.Cycle(
                                recipe.name(),
                                asked(recipe, live, trace.boutStarts()),
                                readings,
                                List.of(),
                                cuts(trace),
                                OptionalDouble.of(Math.min(total_s, live.elapsed_s())),
                                total_s)));
    }

    private static List<CycleStrip.Interruption> cuts(LiveTrace trace) {
        String byHand = Texts.in(Locale.ENGLISH).say("bench.cut.asked");
        return trace.cuts().stream()
                .map(
                        cut ->
                                new CycleStrip.Interruption(
                                        cut.at_s(),
                                        cut.length_s(),
                                        cut.cause() == null ? byHand : cut.cause()))
                .toList();
    }

    /**
     * Bouts where they were heard to begin, the others as planned. A hold puts those to come later by
     * what the cycle lasts longer than its recipe.
     */
    private static List<CycleStrip.Asked> asked(
            RecipeSheet recipe, LiveReading live, NavigableMap<Integer, Double> heard) {
        List<CycleStrip.Asked> asked = new ArrayList<>();
        int all = recipe.bouts().size() * recipe.repeats();
        double planned_s = 0;
        for (int bout = 1; bout <= all; bout++) {
            RecipeSheet.Bout one = recipe.bouts().get((bout - 1) % recipe.bouts().size());
            boolean seenFromItsStart = heard.containsKey(bout) && bout > heard.firstKey();
            double start_s = seenFromItsStart ? heard.get(bout) : planned_s;
            if (bout > live.bout()) {
                start_s = planned_s + longerThanPlanned_s(recipe, live);
            }
            asked.add(new CycleStrip.Asked(start_s, one.agitation_s(), one.speed_rpm()));
            planned_s += one.agitation_s() + (bout == all ? 0 : one.rest_s());
        }
        return asked;
    }

    private static double longerThanPlanned_s(RecipeSheet recipe, LiveReading live) {
        double planned_s = 0;
        for (RecipeSheet.Bout one : recipe.bouts()) {
            planned_s += (one.agitation_s() + one.rest_s()) * recipe.repeats();
        }
        planned_s -= recipe.bouts().get(recipe.bouts().size() - 1).rest_s();
        return Math.max(0, live.elapsed_s() + live.timeLeft_s() - planned_s);
    }
}
