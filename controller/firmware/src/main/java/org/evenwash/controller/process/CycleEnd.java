package org.evenwash.controller.process;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;

/**
 * How a cycle ended, and how long its jars soak after it.
 *
 * @param lastDriven_ns uptime at which the drive went off for the last time
 * @param recorded the record has left; the jars no longer matter to it
 */
record CycleEnd(
        Outcome outcome,
        String by,
        long at_ns,
        long at_ms,
        boolean synchronised,
        long lastDriven_ns,
        List<Soak> soaks,
        boolean recorded) {

    /** Of a cycle that never was. */
    static final CycleEnd NEVER_BEGUN =
            new CycleEnd(Outcome.UNFINISHED, null, 0, 0, false, 0, List.of(), true);

    /** Notes each jar's removal, and lets the record go when that is all there is to know. */
    CycleEnd soaking(Job job, Memory memory, Settings settings, Inputs in, Choice choice) {
        if (recorded) {
            return this;
        }
        int fresh = memory.empty().seen() & job.jars() & ~noted();
        boolean all = (noted() | fresh) == job.jars();
        boolean jarStays = choice == Choice.SAME_JAR_AGAIN || choice == Choice.SECOND_WASH;
        boolean longEnough = in.uptime_ns() - at_ns >= settings.jars().soakLimit().toNanos();
        CycleEnd seen = fresh == 0 ? this : with(job, fresh, true, in.uptime_ns());
        boolean go = all || jarStays || longEnough || in.closing();
        return go ? seen.recorded(job, in.uptime_ns()) : seen;
    }

    /** The record leaves now, whatever is known of the jars. */
    CycleEnd recorded(Job job, long uptime_ns) {
        CycleEnd full = with(job, job.jars() & ~noted(), false, uptime_ns);
        return new CycleEnd(
                outcome, by, at_ns, at_ms, synchronised, lastDriven_ns, full.soaks, true);
    }

    private int noted() {
        int bits = 0;
        for (int i = 0; i < soaks.size(); i++) {
            bits |= 1 << (soaks.get(i).position() - 1);
        }
        return bits;
    }

    private CycleEnd with(Job job, int jars, boolean removed, long uptime_ns) {
        List<Soak> more = new ArrayList<>(soaks);
        for (Position jar : job.positions()) {
            if ((jar.bit() & jars) != 0) {
                Duration soaked = Duration.ofNanos(uptime_ns - lastDriven_ns);
                more.add(new Soak(jar.position(), soaked, removed));
            }
        }
        return new CycleEnd(
                outcome,
                by,
                at_ns,
                at_ms,
                synchronised,
                lastDriven_ns,
                List.copyOf(more),
                recorded);
    }
}
