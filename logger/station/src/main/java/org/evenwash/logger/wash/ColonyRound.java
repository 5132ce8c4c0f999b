package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyEvent;

/**
 * One colony in a round of washes.
 *
 * @param washes of the round, oldest first, those of one day together
 * @param treatments that begin by now and end within the round or after it
 */
record ColonyRound(Colony colony, List<SameDay> washes, List<ColonyEvent> treatments) {

    Optional<SameDay> latest() {
        return washes.isEmpty() ? Optional.empty() : Optional.of(washes.get(washes.size() - 1));
    }

    boolean treated() {
        return !treatments.isEmpty();
    }

    /** Treated after its latest wash, or on that day: the result says nothing of now. */
    boolean treatedSinceWash() {
        return latest().stream()
                .anyMatch(
                        wash ->
                                treatments.stream()
                                        .anyMatch(one -> !one.lastDay().isBefore(wash.day())));
    }

    /** Whether a treatment preceded all its washes, so that none of their results led to it. */
    boolean washedTreated() {
        return treated() && !washes.isEmpty() && treatedForResult().isEmpty();
    }

    /** First day of a treatment that a result of this round may have led to. */
    Optional<LocalDate> treatedForResult() {
        return washes.stream()
                .findFirst()
                .flatMap(
                        first ->
                                treatments.stream()
                                        .map(ColonyEvent::onDay)
                                        .filter(day -> !day.isBefore(first.day()))
                                        .min(Comparator.naturalOrder()));
    }

    /**
     * What its being drawn showed: the latest wash before any treatment that its own results may have
     * led to. Only these are a sample of the colonies not washed.
     */
    Optional<SameDay> asDrawn() {
        Optional<LocalDate> chosen = treatedForResult();
        return washes.stream()
                .filter(wash -> chosen.isEmpty() || !wash.day().isAfter(chosen.get()))
                .reduce((earlier, later) -> later);
    }
}
