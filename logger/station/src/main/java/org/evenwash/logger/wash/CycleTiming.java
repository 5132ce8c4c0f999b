package org.evenwash.logger.wash;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.evenwash.analysis.operators.ChartReading;
import org.evenwash.logger.store.RunRecords;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Outcome;

/**
 * How cycles kept to their recipes.
 *
 * @param cycles latest first
 * @param difference actual less planned agitation of complete cycles, s, oldest first
 * @param causes most frequent first
 */
public record CycleTiming(
        List<RunRecords.Timing> cycles, ChartReading difference, List<Cause> causes) {
    public long count(Outcome outcome) {
        return cycles.stream().filter(one -> one.outcome() == outcome).count();
    }

    public long conforming() {
        return cycles.stream().filter(RunRecords.Timing::conforms).count();
    }

    /**
     * Why cycles did not go on.
     *
     * @param tag of the interlock or request
     * @param cycles in which it happened
     * @param total_s all of its time together
     */
    public record Cause(String tag, String reason, int times, int cycles, double total_s) {}

    /** Adds interruptions up by their cause. */
    static List<Cause> causes(List<CycleRecord> records) {
        Map<String, Cause> causes = new LinkedHashMap<>();
        for (CycleRecord record : records) {
            Map<String, Cause> own = new LinkedHashMap<>();
            for (CycleRecord.Interruption cut : record.interruptions()) {
                Cause once = new Cause(cut.tag(), cut.reason(), 1, 1, cut.length_s());
                own.merge(cut.tag(), once, (a, b) -> added(a, b, 1));
            }
            own.forEach(
                    (tag, cause) ->
                            causes.merge(
                                    tag, cause, (a, b) -> added(a, b, a.cycles() + b.cycles())));
        }
        return causes.values().stream()
                .sorted((a, b) -> Integer.compare(b.times(), a.times()))
                .toList();
    }

    private static Cause added(Cause a, Cause b, int cycles) {
        return new Cause(
                a.tag(), a.reason(), a.times() + b.times(), cycles, a.total_s() + b.total_s());
    }
}
