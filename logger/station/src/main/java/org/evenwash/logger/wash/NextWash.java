package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.analysis.trend.DatedStretch;
import org.evenwash.logger.store.ColonyEvent;

/**
 * When a colony is to be washed next, and by which rule. Only {@link Rule#CROSSING} comes from the
 * colony's own washes; the other intervals are common practice, no source.
 *
 * @param since the day that the rule counts from; null for {@link Rule#NEVER_WASHED}
 */
public record NextWash(LocalDate due, Rule rule, LocalDate since) {
    /** After a treatment, counted from its last day. */
    static final int AFTER_TREATMENT_DAYS = 14;

    /** After a result that is above the threshold, or leaves it open. */
    static final int UNSETTLED_DAYS = 14;

    /** The projected day may lie this near to the last wash; washing again sooner tells little. */
    static final int SOONEST_DAYS = 7;

    /** While there is brood. */
    static final int ROUTINE_DAYS = 28;

    /** While the colony is dormant. */
    static final int DORMANT_DAYS = 56;

    public enum Rule {
        /** There is no result yet. */
        NEVER_WASHED,
        /** Whether the treatment worked. */
        AFTER_TREATMENT,
        /** The lower limit of the day on which the fitted line meets the threshold. */
        CROSSING,
        /** The last result is above the threshold. */
        ABOVE,
        /** The last result leaves it open. */
        UNDECIDED,
        ROUTINE,
        ROUTINE_DORMANT
    }

    public boolean overdue(LocalDate today) {
        return due.isBefore(today);
    }

    /**
     * @param lastWash day of the last result, empty without one
     * @param call of the last result against the threshold in use
     * @param latest the stretch that is going on, empty without one
     */
    static NextWash of(
            LocalDate today,
            Season season,
            Optional<LocalDate> lastWash,
            Verdict.Call call,
            List<ColonyEvent> events,
            Optional<DatedStretch> latest) {
        Optional<LocalDate> treated =
                events.stream()
                        .filter(event -> event.kind() == ColonyEvent.Kind.TREATMENT)
                        .map(ColonyEvent::lastDay)
                        .max(LocalDate::compareTo);
        if (treated.isPresent() && lastWash.map(day -> !day.isAfter(treated.get())).orElse(true)) {
            LocalDate due = treated.get().plusDays(AFTER_TREATMENT_DAYS);
            return new NextWash(due, Rule.AFTER_TREATMENT, treated.get());
        }
        if (lastWash.isEmpty()) {
            return new NextWash(today, Rule.NEVER_WASHED, null);
        }
        LocalDate last = lastWash.get();
        NextWash usual = afterA(call, last, season);
        Optional<LocalDate> meets =
                latest.filter(DatedStretch::rises)
                        .flatMap(DatedStretch::meeting)
                        .filter(meeting -> meeting.day().isAfter(last))
                        .map(DatedStretch.Meeting::earliest)
                        .map(day -> later(day, last.plusDays(SOONEST_DAYS)));
        return meets.isPresent() && meets.get().isBefore(usual.due())
                ? new NextWash(meets.get(), Rule.CROSSING, last)
                : usual;
    }

    private static NextWash afterA(Verdict.Call call, LocalDate last, Season season) {
        return switch (call) {
            case ABOVE -> new NextWash(last.plusDays(UNSETTLED_DAYS), Rule.ABOVE, last);
            case UNDECIDED -> new NextWash(last.plusDays(UNSETTLED_DAYS), Rule.UNDECIDED, last);
            case BELOW, NOT_ASSESSED ->
                    season == Season.DORMANT
                            ? new NextWash(last.plusDays(DORMANT_DAYS), Rule.ROUTINE_DORMANT, last)
                            : new NextWash(last.plusDays(ROUTINE_DAYS), Rule.ROUTINE, last);
        };
    }

    private static LocalDate later(LocalDate one, LocalDate other) {
        return one.isAfter(other) ? one : other;
    }
}
