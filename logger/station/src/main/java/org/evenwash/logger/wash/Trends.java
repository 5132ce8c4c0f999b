package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;
import java.util.function.Function;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.analysis.trend.DatedStretch;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colonies;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.store.CountedWash;
import org.evenwash.logger.store.CountedWashes;
import org.jdbi.v3.core.Handle;

/** Colonies over time. */
public final class Trends {
    /** A season and a half before the last wash; older washes say little of this year. */
    private static final int USUAL_SPAN_DAYS = 550;

    private final Desk desk;
    private final Standards standards;

    Trends(Desk desk, Standards standards) {
        this.desk = desk;
        this.standards = standards;
    }

    /**
     * @param all every year, instead of the last season and a half
     * @param naming how a day is called in remarks
     */
    public ColonyHistory of(UUID colonyId, boolean all, Function<LocalDate, String> naming) {
        boolean simulatedToo = desk.demonstration();
        return desk.read(handle -> history(handle, colonyId, all, simulatedToo, naming));
    }

    private ColonyHistory history(
            Handle handle,
            UUID colonyId,
            boolean all,
            boolean simulatedToo,
            Function<LocalDate, String> naming) {
        Colony colony = Yard.colony(handle, colonyId);
        Apiary apiary = Yard.apiary(handle, colony.apiaryId());
        Optional<Threshold> threshold = standards.threshold(handle, apiary.id());
        Optional<CountedWashes.Days> days =
                CountedWashes.daysOfColony(handle, colonyId, simulatedToo);
        LocalDate today = LocalDate.ofInstant(desk.now(), apiary.zone());
        LocalDate first = days.map(CountedWashes.Days::first).orElse(today);
        LocalDate usual =
                days.map(CountedWashes.Days::last).orElse(today).minusDays(USUAL_SPAN_DAYS);
        boolean earlier = !all && first.isBefore(usual);
        LocalDate from = earlier ? usual : first;
        List<CountedWash> washes = CountedWashes.ofColony(handle, colonyId, from, simulatedToo);
        List<ColonyEvent> events = Colonies.eventsAround(handle, colonyId);
        Season season = Season.on(today, apiary.hemisphere());
        ColonyHistory history =
                new ColonyHistory(
                        colony,
                        apiary,
                        washes,
                        events,
                        stretches(washes, Breaks.days(colonyId, events), threshold, naming),
                        threshold,
                        from,
                        earlier,
                        simulatedToo ? 0 : CountedWashes.simulatedOf(handle, colonyId),
                        season,
                        Optional.empty(),
                        today);
        return colony.endedOn() == null ? withNext(history) : history;
    }

    private static List<DatedStretch> stretches(
            List<CountedWash> washes,
            List<LocalDate> breaks,
            Optional<Threshold> threshold,
            Function<LocalDate, String> naming) {
        if (washes.isEmpty()) {
            return List.of();
        }
        return DatedStretch.of(
                washes.stream()
                        .map(w -> new DatedStretch.Wash(w.sampledOn(), w.mites(), w.bees()))
                        .toList(),
                breaks,
                threshold.map(Threshold::per100Bees).orElse(OptionalDouble.empty()),
                naming);
    }

    private static ColonyHistory withNext(ColonyHistory h) {
        NextWash next =
                NextWash.of(
                        h.today(),
                        h.season(),
                        h.last().map(SameDay::day),
                        h.last()
                                .flatMap(last -> last.verdict(h.threshold()))
                                .map(Verdict::call)
                                .orElse(Verdict.Call.NOT_ASSESSED),
                        h.events().stream()
                                .filter(event -> event.colonyId().equals(h.colony().id()))
                                .filter(event -> !event.onDay().isAfter(h.today()))
                                .toList(),
                        h.latest());
        return new ColonyHistory(
                h.colony(),
                h.apiary(),
                h.washes(),
                h.events(),
                h.stretches(),
                h.threshold(),
                h.from(),
                h.earlier(),
                h.simulatedLeftOut(),
                h.season(),
                Optional.of(next),
                h.today());
    }
}
