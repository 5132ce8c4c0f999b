package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.trend.DatedStretch;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.store.CountedWash;

/**
 * A colony over time.
 *
 * @param washes with a result, oldest first, from {@code from} on
 * @param events of this colony and those of others that concern it, oldest first, all of them
 * @param stretches of the washes between breaks, in order
 * @param from first day looked at
 * @param earlier whether there are results before it
 * @param simulatedLeftOut results that are not in the trend because they were simulated
 * @param next empty for a colony that has ended
 * @param today in the apiary's time zone
 */
public record ColonyHistory(
        Colony colony,
        Apiary apiary,
        List<CountedWash> washes,
        List<ColonyEvent> events,
        List<DatedStretch> stretches,
        Optional<Threshold> threshold,
        LocalDate from,
        boolean earlier,
        int simulatedLeftOut,
        Season season,
        Optional<NextWash> next,
        LocalDate today) {
    public ColonyHistory {
        washes = List.copyOf(washes);
        events = List.copyOf(events);
        stretches = List.copyOf(stretches);
    }

    /** The last washes that are judged together. */
    public Optional<SameDay> last() {
        return SameDay.last(washes, events);
    }

    /**
     * The stretch that is still going on; empty where something has broken the series since the last
     * wash.
     */
    public Optional<DatedStretch> latest() {
        if (stretches.isEmpty()) {
            return Optional.empty();
        }
        LocalDate last = washes.get(washes.size() - 1).sampledOn();
        boolean broken =
                Breaks.days(colony.id(), events).stream().anyMatch(day -> !day.isBefore(last));
        return broken ? Optional.empty() : Optional.of(stretches.get(stretches.size() - 1));
    }
}
