package org.evenwash.logger.chart;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.RecipeSheet;

/** The strip of a cycle that is over, from its record. */
public final class CyclePicture {
    private CyclePicture() {}

    /** What was asked as outlines, what was reached as filled blocks, interruptions as cuts. */
    public static Picture of(CycleRecord record) {
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
        return CycleStrip.draw(
                new CycleStrip.Cycle(
                        record.recipe().name(),
                        asked,
                        trace(record.trace()),
                        reached,
                        cuts,
                        OptionalDouble.empty(),
                        total_s));
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
