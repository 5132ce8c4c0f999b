package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
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
        ROUTINE,
        ROUTINE_DORMANT
    }

    public boolean overdue(LocalDate today) {
        return due.isBefore(today);
    }

    /**
     * @param lastWash day of the last result, empty without one
     * @param latest the stretch that is going on, empty without one
     */
    static NextWash of(
            LocalDate today,
            Season season,
            Optional<LocalDate> lastWash,
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
        boolean dormant = season == Season.DORMANT;
        LocalDate routine = last.plusDays(dormant ? DORMANT_DAYS : ROUTINE_DAYS);
        Optional<LocalDate> meets =
                latest.filter(DatedStretch::rises)
                        .flatMap(DatedStretch::meeting)
                        .filter(meeting -> meeting.day().isAfter(last))
                        .map(DatedStretch.Meeting::earliest)
                        .map(day -> day.isAfter(last) ? day : last.plusDays(1));
        if (meets.isPresent() && meets.get().isBefore(routine)) {
            return new NextWash(meets.get(), Rule.CROSSING, last);
        }
        return new NextWash(routine, dormant ? Rule.ROUTINE_DORMANT : Rule.ROUTINE, last);
    }
}
