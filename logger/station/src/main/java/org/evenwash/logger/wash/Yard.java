package org.evenwash.logger.wash;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import org.evenwash.logger.store.Apiaries;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colonies;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.store.Listing;
import org.evenwash.logger.store.Operator;
import org.evenwash.logger.store.Operators;
import org.evenwash.logger.store.Page;
import org.evenwash.record.Ids;
import org.jdbi.v3.core.Handle;

/** Apiaries, the colonies in them, and the people who work there. */
public final class Yard {
    /** Of people and all that the yard gives a name, typed in or imported, in characters. */
    public static final int LONGEST_NAME = 120;

    private final Desk desk;

    Yard(Desk desk) {
        this.desk = desk;
    }

    /**
     * Adds an apiary.
     *
     * @param timeZone an IANA name; decides what day a wash was
     * @throws Refused if the name is taken or the time zone is unknown
     */
    public Apiary addApiary(String name, String timeZone, Hemisphere hemisphere, By by) {
        Apiary apiary =
                new Apiary(
                        Ids.next(),
                        Entry.name("apiary", name),
                        zone(timeZone),
                        Entry.present("hemisphere", hemisphere),
                        null,
                        null,
                        "",
                        desk.now(),
                        1);
        UUID id =
                desk.once(
                        by,
                        "add an apiary",
                        apiary.id(),
                        handle -> {
                            if (Apiaries.named(handle, apiary.name()).isPresent()) {
                                throw Refused.conflict(
                                        "apiary",
                                        "'" + apiary.name() + "' is there already",
                                        "choose another name");
                            }
                            Apiaries.insert(handle, apiary);
                        });
        return apiary(id);
    }

    static String zone(String timeZone) {
        try {
            return ZoneId.of(Entry.present("time zone", timeZone)).getId();
        } catch (DateTimeException e) {
            throw Refused.invalid(
                    "time zone",
                    "reads '" + timeZone + "'",
                    "enter a name such as Europe/Vienna or Australia/Sydney");
        }
    }

    public List<Apiary> apiaries() {
        return desk.read(Apiaries::all);
    }

    public Apiary apiary(UUID id) {
        return desk.read(handle -> apiary(handle, id));
    }

    static Apiary apiary(Handle handle, UUID id) {
        return Apiaries.find(handle, Entry.present("apiary", id))
                .orElseThrow(() -> Refused.notFound("apiary", id));
    }

    public Colony addColony(UUID apiaryId, String name, By by) {
        Colony colony =
                new Colony(
                        Ids.next(),
                        Entry.present("apiary", apiaryId),
                        Entry.name("colony", name),
                        null,
                        "",
                        desk.now(),
                        1);
        UUID id =
                desk.onceAt(
                        by,
                        "add a colony to apiary",
                        apiaryId,
                        colony.id(),
                        handle -> {
                            apiary(handle, apiaryId);
                            nameIsFree(handle, apiaryId, colony.name());
                            Colonies.insert(handle, colony);
                        });
        return colony(id);
    }

    static void nameIsFree(Handle handle, UUID apiaryId, String name) {
        if (Colonies.named(handle, apiaryId, name).isPresent()) {
            throw Refused.conflict(
                    "colony",
                    "'" + name + "' is in this apiary already",
                    "choose another name, or record a rename of the other");
        }
    }

    public Colony colony(UUID id) {
        return desk.read(handle -> colony(handle, id));
    }

    static Colony colony(Handle handle, UUID id) {
        return Colonies.find(handle, Entry.present("colony", id))
                .orElseThrow(() -> Refused.notFound("colony", id));
    }

    /** Colonies that live in an apiary now, by name. */
    public List<Colony> colonies(UUID apiaryId) {
        return desk.read(handle -> Colonies.living(handle, apiaryId));
    }

    /** All colonies, ended ones too, by name. */
    public Listing<Colony> allColonies(Page page) {
        return desk.read(handle -> Colonies.list(handle, page));
    }

    public Operator addOperator(String name, By by) {
        Operator operator =
                new Operator(Ids.next(), Entry.name("operator", name), true, desk.now());
        UUID id =
                desk.once(
                        by,
                        "add an operator",
                        operator.id(),
                        handle -> {
                            if (Operators.named(handle, operator.name()).isPresent()) {
                                throw Refused.conflict(
                                        "operator",
                                        "'" + operator.name() + "' is there already",
                                        "choose another name");
                            }
                            Operators.insert(handle, operator);
                        });
        return desk.read(handle -> Operators.find(handle, id).orElseThrow());
    }

    public List<Operator> operators() {
        return desk.read(Operators::all);
    }

    public List<ColonyEvent> events(UUID colonyId) {
        return desk.read(handle -> Colonies.events(handle, colonyId));
    }

    /** Gives a colony another name from a day on; its id and washes stay. */
    public Colony rename(UUID colonyId, String name, LocalDate onDay, By by) {
        String later = Entry.name("colony", name);
        return happened(
                colonyId,
                ColonyEvent.Kind.RENAME,
                onDay,
                by,
                (handle, colony, event) -> {
                    nameIsFree(handle, colony.apiaryId(), later);
                    return event.renamed(later);
                });
    }

    /** Moves a colony to another apiary. */
    public Colony move(UUID colonyId, UUID toApiaryId, LocalDate onDay, By by) {
        return happened(
                colonyId,
                ColonyEvent.Kind.MOVE,
                onDay,
                by,
                (handle, colony, event) -> {
                    apiary(handle, toApiaryId);
                    nameIsFree(handle, toApiaryId, colony.name());
                    return event.moved(toApiaryId);
                });
    }

    /** A new queen, seen or put in. */
    public Colony requeen(UUID colonyId, LocalDate onDay, String remarks, By by) {
        return happened(
                colonyId,
                ColonyEvent.Kind.REQUEEN,
                onDay,
                by,
                (handle, colony, event) -> event.remarked(remarks));
    }

    /** Bees of this colony were made into another, which is there already. */
    public Colony split(UUID colonyId, UUID newColonyId, LocalDate onDay, By by) {
        return happened(
                colonyId,
                ColonyEvent.Kind.SPLIT,
                onDay,
                by,
                (handle, colony, event) -> event.with(colony(handle, newColonyId).id()));
    }

    /** This colony was put to another and ends. */
    public Colony mergeInto(UUID colonyId, UUID otherColonyId, LocalDate onDay, By by) {
        return happened(
                colonyId,
                ColonyEvent.Kind.MERGE,
                onDay,
                by,
                (handle, colony, event) -> event.with(colony(handle, otherColonyId).id()).ended());
    }

    public Colony swarmed(UUID colonyId, LocalDate onDay, String remarks, By by) {
        return happened(
                colonyId,
                ColonyEvent.Kind.SWARM,
                onDay,
                by,
                (handle, colony, event) -> event.remarked(remarks));
    }

    public Colony died(UUID colonyId, LocalDate onDay, String remarks, By by) {
        return happened(
                colonyId,
                ColonyEvent.Kind.DEATH,
                onDay,
                by,
                (handle, colony, event) -> event.remarked(remarks).ended());
    }

    /**
     * A treatment by its active substance.
     *
     * @param untilDay last day, null if it was done at once
     */
    public Colony treated(
            UUID colonyId,
            String substance,
            LocalDate onDay,
            LocalDate untilDay,
            String remarks,
            By by) {
        String active = Entry.name("active substance", substance);
        if (untilDay != null && onDay != null && untilDay.isBefore(onDay)) {
            throw Refused.invalid(
                    "last day", "lies before the first", "check the two days of the treatment");
        }
        return happened(
                colonyId,
                ColonyEvent.Kind.TREATMENT,
                onDay,
                by,
                (handle, colony, event) -> event.treated(active, untilDay).remarked(remarks));
    }

    /**
     * Takes an event back as a mistake. A rename, move, merge or death is undone with it.
     *
     * @throws Refused if a later event built on it
     */
    public Colony withdraw(UUID eventId, String why, By by) {
        String reason = Entry.why(why);
        ColonyEvent event = desk.read(handle -> event(handle, eventId));
        desk.onceAt(
                by,
                "take back event",
                eventId,
                handle -> {
                    new EventWithdrawal(handle, event).at(desk.now());
                    desk.new Changes(handle, by, "colony event", eventId, null, 1, reason)
                            .field("" + event.kind(), event.onDay(), null)
                            .done();
                    desk.overtake(
                            handle,
                            by,
                            event.kind().name().toLowerCase(Locale.ROOT)
                                    + " of "
                                    + event.onDay()
                                    + " was taken back: "
                                    + reason,
                            event.colonyId().toString());
                });
        return colony(event.colonyId());
    }

    static ColonyEvent event(Handle handle, UUID id) {
        return Colonies.findEvent(handle, Entry.present("event", id))
                .orElseThrow(() -> Refused.notFound("event", id));
    }

    /** Fills in what is particular to one kind of event. */
    private interface Filling {
        ColonyEventDraft fill(Handle handle, Colony colony, ColonyEventDraft event);
    }

    private Colony happened(
            UUID colonyId, ColonyEvent.Kind kind, LocalDate onDay, By by, Filling filling) {
        Entry.present("day", onDay);
        UUID id =
                desk.onceAt(
                        by,
                        "record " + kind + " of colony",
                        colonyId,
                        handle -> {
                            Colony colony = colony(handle, colonyId);
                            if (colony.endedOn() != null && onDay.isAfter(colony.endedOn())) {
                                throw Refused.conflict(
                                        "colony",
                                        "'" + colony.name() + "' ended on " + colony.endedOn(),
                                        "choose a day before, or another colony");
                            }
                            ColonyEventDraft draft =
                                    filling.fill(
                                            handle,
                                            colony,
                                            new ColonyEventDraft(colony, kind, onDay));
                            Colonies.insertEvent(handle, draft.event(desk.now(), by.operatorId()));
                            desk.overtake(
                                    handle,
                                    by,
                                    kind.name().toLowerCase(Locale.ROOT)
                                            + " of "
                                            + onDay
                                            + " was recorded",
                                    colonyId.toString());
                            if (draft.changesColony() && !Colonies.update(handle, draft.colony())) {
                                throw Refused.conflict(
                                        "colony", "was changed at the same moment", "try again");
                            }
                        });
        return colony(id);
    }
}
