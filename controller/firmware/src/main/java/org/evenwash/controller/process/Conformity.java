package org.evenwash.controller.process;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Compares what happened with what the recipe asked for, point by point. */
final class Conformity {
    private Conformity() {}

    static List<ConformityPoint> points(CycleEvidence e) {
        List<ConformityPoint> points = new ArrayList<>();
        points.add(ranToItsEnd(e));
        points.add(allBouts(e));
        Tolerances allowed = e.recipe().tolerances();
        for (BoutEvidence bout : e.bouts()) {
            String which = "bout " + bout.number() + ": ";
            points.add(agitation(which, bout, allowed));
            points.add(speed(which, bout, allowed));
            points.add(rest(which, bout, allowed));
        }
        points.add(noHold(e));
        points.add(watched(e));
        return List.copyOf(points);
    }

    private static ConformityPoint ranToItsEnd(CycleEvidence e) {
        String how = e.endedBy() == null ? "" + e.outcome() : e.outcome() + " by " + e.endedBy();
        return new ConformityPoint("ran to its end", e.outcome() == Outcome.COMPLETE, how);
    }

    private static ConformityPoint allBouts(CycleEvidence e) {
        int asked = e.recipe().boutCount();
        int begun = e.bouts().size();
        return new ConformityPoint("all bouts", begun == asked, begun + " of " + asked);
    }

    private static ConformityPoint agitation(String which, BoutEvidence b, Tolerances allowed) {
        Duration off = b.agitation().minus(b.planned().agitation()).abs();
        return new ConformityPoint(
                which + "agitation time",
                off.compareTo(allowed.agitation()) <= 0,
                "%s s, asked %s s".formatted(s(b.agitation()), s(b.planned().agitation())));
    }

    private static ConformityPoint speed(String which, BoutEvidence b, Tolerances allowed) {
        double atSpeed_s = b.atSpeed().toNanos() * 1e-9;
        double inBand_s = b.withinTolerance().toNanos() * 1e-9;
        // Ramps that meet leave no time at speed: then there is nothing to keep.
        boolean noPlateau =
                b.planned().ramp().multipliedBy(2).compareTo(b.planned().agitation()) >= 0;
        boolean held = inBand_s >= allowed.timeInBand_fraction() * atSpeed_s && atSpeed_s > 0;
        return new ConformityPoint(
                which + "speed",
                held || noPlateau,
                String.format(
                        Locale.ROOT,
                        "%.1f of %.1f s within %.0f %% of %.0f rpm",
                        inBand_s,
                        atSpeed_s,
                        100 * allowed.speed_fraction(),
                        b.planned().speed_rpm()));
    }

    private static ConformityPoint rest(String which, BoutEvidence b, Tolerances allowed) {
        Duration over = b.rest().minus(b.planned().rest());
        boolean held = !over.isNegative() && over.compareTo(allowed.rest()) <= 0;
        return new ConformityPoint(
                which + "rest",
                held,
                "%s s, asked %s s".formatted(s(b.rest()), s(b.planned().rest())));
    }

    private static ConformityPoint noHold(CycleEvidence e) {
        List<String> causes = e.interruptions().stream().map(Interruption::cause).toList();
        String evidence = causes.isEmpty() ? "none" : String.join(", ", causes);
        return new ConformityPoint("not interrupted", causes.isEmpty(), evidence);
    }

    /** One scan in a thousand may be late before the times are doubted. */
    private static ConformityPoint watched(CycleEvidence e) {
        return new ConformityPoint(
                "watched on time",
                e.lateScans() * 1000 <= e.scans(),
                "%d of %d scans late, worst by %d ms"
                        .formatted(e.lateScans(), e.scans(), e.worstLate().toMillis()));
    }

    private static String s(Duration d) {
        return String.format(Locale.ROOT, "%.3f", d.toNanos() * 1e-9);
    }
}
