package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.efficacy.BeforeAfter;
import org.evenwash.analysis.efficacy.Efficacy;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colonies;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.store.CountedWash;
import org.evenwash.logger.store.CountedWashes;
import org.evenwash.logger.wash.TreatmentEffect.LeftOut;
import org.evenwash.logger.wash.TreatmentEffect.Pair;
import org.evenwash.logger.wash.TreatmentEffect.Why;
import org.jdbi.v3.core.Handle;

/**
 * Treatments held against washes before and after them. How near the washes have to be is common
 * practice, no source.
 */
public final class Treatments {
    /** A wash before counts if it is at most so old when the treatment begins. */
    public static final int BEFORE_DAYS = 42;

    /** A wash afterwards counts within so many days of the last day of the treatment. */
    public static final int AFTER_DAYS = 56;

    /** Treatments that begin so many days apart are one campaign. */
    public static final int TOGETHER_DAYS = 7;

    /** A control is washed within so many days of the treated colony, before and after. */
    public static final int CONTROL_DAYS = 14;

    private final Desk desk;

    Treatments(Desk desk) {
        this.desk = desk;
    }

    /**
     * What a treatment did.
     *
     * @throws Refused if the event is not a treatment, or was taken back
     */
    public TreatmentEffect effect(UUID eventId) {
        boolean simulatedToo = desk.demonstration();
        return desk.read(handle -> effect(handle, eventId, simulatedToo));
    }

    private static TreatmentEffect effect(Handle handle, UUID eventId, boolean simulatedToo) {
        ColonyEvent event = Yard.event(handle, eventId);
        if (event.kind() != ColonyEvent.Kind.TREATMENT || event.withdrawnAt() != null) {
            throw Refused.notFound("treatment", eventId);
        }
        Colony colony = Yard.colony(handle, event.colonyId());
        LocalDate from = event.onDay().minusDays(BEFORE_DAYS + TOGETHER_DAYS);
        LocalDate to = event.lastDay().plusDays(AFTER_DAYS + TOGETHER_DAYS);
        List<CountedWash> washed =
                CountedWashes.ofColony(handle, colony.id(), from, simulatedToo).stream()
                        .filter(wash -> !wash.sampledOn().isAfter(to))
                        .toList();
        // Where it stood when it was washed: it may have been moved since.
        UUID apiaryId =
                washed.isEmpty() ? colony.apiaryId() : washed.get(washed.size() - 1).apiaryId();
        Map<UUID, List<CountedWash>> byColony = new LinkedHashMap<>();
        byColony.put(colony.id(), washed);
        for (CountedWash wash : CountedWashes.ofApiary(handle, apiaryId, from, to, simulatedToo)) {
            if (!wash.colonyId().equals(colony.id())) {
                byColony.computeIfAbsent(wash.colonyId(), id -> new ArrayList<>()).add(wash);
            }
        }
        List<ColonyEvent> events = new ArrayList<>(Colonies.eventsAt(handle, apiaryId, from));
        Colonies.eventsAround(handle, colony.id()).stream()
                .filter(own -> events.stream().noneMatch(e -> e.id().equals(own.id())))
                .forEach(events::add);
        Comparison comparison = new Comparison(handle, event, events, byColony);
        return comparison.effect(colony, Yard.apiary(handle, apiaryId));
    }

    /** One treatment and the colonies around it. */
    private static final class Comparison {
        private final Handle handle;
        private final ColonyEvent event;
        private final List<ColonyEvent> events;
        private final Map<UUID, List<CountedWash>> washes;
        private final List<Pair> alike = new ArrayList<>();
        private final List<Pair> controls = new ArrayList<>();
        private final List<LeftOut> leftOut = new ArrayList<>();

        Comparison(
                Handle handle,
                ColonyEvent event,
                List<ColonyEvent> events,
                Map<UUID, List<CountedWash>> washes) {
            this.handle = handle;
            this.event = event;
            this.events = events;
            this.washes = washes;
        }

        TreatmentEffect effect(Colony colony, Apiary apiary) {
            Optional<Pair> own = treated(colony, event);
            Result refusal =
                    own.isPresent() ? null : new Result.NotEnoughData(needs(leftOut.get(0).why()));
            leftOut.clear();
            own.ifPresent(this::others);
            return new TreatmentEffect(
                    event,
                    colony,
                    apiary,
                    own,
                    alike,
                    controls,
                    leftOut,
                    own.map(this::single).orElse(refusal),
                    own.filter(pair -> !alike.isEmpty()).map(this::group));
        }

        private static String needs(Why why) {
            return switch (why) {
                case NO_WASH_BEFORE ->
                        "a counted wash of this colony within "
                                + BEFORE_DAYS
                                + " days before the treatment";
                case NO_WASH_AFTER ->
                        "a counted wash of this colony within "
                                + AFTER_DAYS
                                + " days after the last day of the treatment";
                case SOMETHING_BETWEEN ->
                        "washes with nothing else between them: another treatment, a new queen, a split"
                                + " or a merge lies between those that there are";
            };
        }

        private void others(Pair own) {
            for (UUID id : washes.keySet()) {
                if (id.equals(event.colonyId())) {
                    continue;
                }
                Colony colony = Yard.colony(handle, id);
                Optional<ColonyEvent> same = sameTreatment(id);
                if (same.isPresent()) {
                    treated(colony, same.get()).ifPresent(alike::add);
                } else {
                    control(colony, own).ifPresent(controls::add);
                }
            }
        }

        private Optional<ColonyEvent> sameTreatment(UUID colonyId) {
            return events.stream()
                    .filter(other -> other.kind() == ColonyEvent.Kind.TREATMENT)
                    .filter(other -> other.colonyId().equals(colonyId))
                    .filter(other -> other.substance().equalsIgnoreCase(event.substance()))
                    .filter(
                            other ->
                                    apart(other.onDay(), event.onDay()) <= TOGETHER_DAYS
                                            && apart(other.lastDay(), event.lastDay())
                                                    <= TOGETHER_DAYS)
                    .findFirst();
        }

        /** The last wash before and the first after; a wash on the first day is before it. */
        private Optional<Pair> treated(Colony colony, ColonyEvent treatment) {
            Optional<LocalDate> before =
                    days(colony)
                            .filter(day -> !day.isAfter(treatment.onDay()))
                            .filter(day -> apart(day, treatment.onDay()) <= BEFORE_DAYS)
                            .max(LocalDate::compareTo);
            Optional<LocalDate> after =
                    days(colony)
                            .filter(day -> day.isAfter(treatment.lastDay()))
                            .filter(day -> apart(day, treatment.lastDay()) <= AFTER_DAYS)
                            .min(LocalDate::compareTo);
            return pair(colony, before, after, treatment);
        }

        /** The washes nearest to those of the treated colony, on the same sides of the treatment. */
        private Optional<Pair> control(Colony colony, Pair own) {
            Optional<LocalDate> before =
                    nearest(
                            days(colony).filter(day -> !day.isAfter(event.onDay())),
                            own.before().day());
            Optional<LocalDate> after =
                    nearest(
                            days(colony).filter(day -> day.isAfter(event.lastDay())),
                            own.after().day());
            return pair(colony, before, after, null);
        }

        private static Optional<LocalDate> nearest(Stream<LocalDate> days, LocalDate to) {
            return days.filter(day -> apart(day, to) <= CONTROL_DAYS)
                    .min((a, b) -> Long.compare(apart(a, to), apart(b, to)));
        }

        private Optional<Pair> pair(
                Colony colony,
                Optional<LocalDate> before,
                Optional<LocalDate> after,
                ColonyEvent own) {
            Why why = null;
            if (before.isEmpty()) {
                why = Why.NO_WASH_BEFORE;
            } else if (after.isEmpty()) {
                why = Why.NO_WASH_AFTER;
            } else if (broken(colony.id(), before.get(), after.get(), own)) {
                why = Why.SOMETHING_BETWEEN;
            }
            if (why != null) {
                leftOut.add(new LeftOut(colony, why));
                return Optional.empty();
            }
            return Optional.of(
                    new Pair(
                            colony,
                            caught(colony.id(), before.get()),
                            caught(colony.id(), after.get())));
        }

        /** Anything that cuts the series between two washes, the treatment itself apart. */
        private boolean broken(UUID colonyId, LocalDate before, LocalDate after, ColonyEvent own) {
            return events.stream()
                    .filter(other -> own == null || !other.id().equals(own.id()))
                    .filter(other -> Breaks.cuts(colonyId, other))
                    .anyMatch(
                            other ->
                                    !other.lastDay().isBefore(before)
                                            && other.onDay().isBefore(after));
        }

        private Stream<LocalDate> days(Colony colony) {
            return washes.get(colony.id()).stream().map(CountedWash::sampledOn).distinct();
        }

        /** What a colony is judged by on that day; no event cuts it, as a day's washes are before it. */
        private TreatmentEffect.Catch caught(UUID colonyId, LocalDate day) {
            SameDay judged =
                    SameDay.last(
                                    washes.get(colonyId).stream()
                                            .filter(wash -> wash.sampledOn().equals(day))
                                            .toList(),
                                    List.of())
                            .orElseThrow();
            return new TreatmentEffect.Catch(day, judged.mites(), judged.bees());
        }

        private Result single(Pair own) {
            return Efficacy.withControls(
                    own.compared(), controls.stream().map(Pair::compared).toList());
        }

        private Result group(Pair own) {
            List<BeforeAfter> treated =
                    Stream.concat(Stream.of(own), alike.stream()).map(Pair::compared).toList();
            // One untreated colony is no group: its own chance would pass for the natural change.
            return controls.size() < 2
                    ? Efficacy.ofGroupWithoutControl(treated)
                    : Efficacy.ofGroups(treated, controls.stream().map(Pair::compared).toList());
        }

        private static long apart(LocalDate one, LocalDate other) {
            return Math.abs(ChronoUnit.DAYS.between(one, other));
        }
    }
}
