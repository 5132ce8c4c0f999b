package org.evenwash.logger.wash;

import java.util.List;
import java.util.Optional;
import org.evenwash.logger.store.CycleLine;
import org.evenwash.logger.store.MiteCount;
import org.evenwash.logger.store.Soak;
import org.evenwash.logger.store.SpiritBatch;
import org.evenwash.logger.store.WashPass;

/**
 * One pass of a wash with all that belongs to it.
 *
 * @param spirit null if none was named
 * @param spiritThen what the batch was at this use, null without a batch
 * @param spiritUse which use of its batch this was, from 1; null without a batch
 * @param agitation_s sum over its cycles, else as timed by hand, null without either
 * @param soak after the last cycle, null where none was recorded
 * @param counts the first count, then recounts
 */
public record PassSheet(
        WashPass pass,
        SpiritBatch spirit,
        SpiritState spiritThen,
        Integer spiritUse,
        List<CycleLine> cycles,
        Double agitation_s,
        Soak soak,
        List<MiteCount> counts) {
    public PassSheet {
        cycles = List.copyOf(cycles);
        counts = List.copyOf(counts);
    }

    /** The count that results rest on. */
    public Optional<MiteCount> firstCount() {
        return counts.stream().filter(count -> !count.recount()).findFirst();
    }

    public List<MiteCount> recounts() {
        return counts.stream().filter(MiteCount::recount).toList();
    }

    /** Whether every cycle was what its recipe asks; empty without a cycle. */
    public Optional<Boolean> conforms() {
        return cycles.isEmpty()
                ? Optional.empty()
                : Optional.of(cycles.stream().allMatch(CycleLine::conforms));
    }
}
