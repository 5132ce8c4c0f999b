package org.evenwash.logger.transfer;

import java.text.Normalizer;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;
import org.evenwash.logger.store.Apiaries;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colonies;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.store.Operator;
import org.evenwash.logger.store.Operators;
import org.evenwash.logger.store.SpiritBatch;
import org.evenwash.logger.store.SpiritBatches;
import org.evenwash.record.Ids;
import org.jdbi.v3.core.Handle;

/**
 * Who is meant by the names of old records. Letters large or small mean the same; a colony is looked
 * for under the name and in the apiary that it had on that day. What is not known is made.
 */
final class Directory {

    /** A time during which a colony had a name in an apiary; {@code until} is the first day after it. */
    private record Stay(UUID colonyId, LocalDate from, LocalDate until) {
        boolean holds(LocalDate day) {
            return !day.isBefore(from) && day.isBefore(until);
        }
    }

    private final ImportPlan plan;
    private final Instant now;
    private final Map<String, Apiary> apiaries = new HashMap<>();
    private final Map<String, UUID> operators = new HashMap<>();
    private final Map<String, UUID> spirits = new HashMap<>();

    /** The same few names stand in thousands of rows. */
    private final Map<String, String> folded = new HashMap<>();

    private final Map<String, List<Stay>> stays = new HashMap<>();

    final Map<UUID, Apiary> newApiaries = new LinkedHashMap<>();
    final Map<UUID, Colony> newColonies = new LinkedHashMap<>();
    final Map<UUID, Operator> newOperators = new LinkedHashMap<>();
    final Map<UUID, SpiritBatch> newSpirits = new LinkedHashMap<>();

    Directory(Handle handle, ImportPlan plan, Instant now) {
        this.plan = plan;
        this.now = now;
        Apiaries.all(handle).forEach(one -> apiaries.put(fold(one.name()), one));
        Operators.all(handle).forEach(one -> operators.put(fold(one.name()), one.id()));
        SpiritBatches.all(handle).forEach(one -> spirits.put(fold(one.name()), one.id()));
        Map<UUID, List<ColonyEvent>> moves =
                Colonies.renamesAndMoves(handle).stream()
                        .collect(Collectors.groupingBy(ColonyEvent::colonyId));
        for (Colony colony : Colonies.everyOne(handle)) {
            addStays(colony, moves.getOrDefault(colony.id(), List.of()));
        }
    }

    private void addStays(Colony colony, List<ColonyEvent> events) {
        LocalDate until = colony.endedOn() == null ? LocalDate.MAX : colony.endedOn().plusDays(1);
        String name = colony.name();
        UUID apiary = colony.apiaryId();
        for (int i = events.size() - 1; i >= 0; i--) {
            ColonyEvent event = events.get(i);
            stay(apiary, name, new Stay(colony.id(), event.onDay(), until));
            until = event.onDay();
            name = event.kind() == ColonyEvent.Kind.RENAME ? event.earlierName() : name;
            apiary = event.kind() == ColonyEvent.Kind.MOVE ? event.fromApiaryId() : apiary;
        }
        stay(apiary, name, new Stay(colony.id(), LocalDate.MIN, until));
    }

    private void stay(UUID apiaryId, String name, Stay stay) {
        stays.computeIfAbsent(apiaryId + "/" + fold(name), key -> new ArrayList<>(1)).add(stay);
    }

    /** The same name for the same thing, however it was typed. */
    String fold(String name) {
        return folded.computeIfAbsent(
                name,
                typed ->
                        Normalizer.normalize(typed, Normalizer.Form.NFC)
                                .strip()
                                .replaceAll("\\s+", " ")
                                .toLowerCase(Locale.ROOT));
    }

    Apiary apiary(String name) {
        return apiaries.computeIfAbsent(
                fold(name),
                key -> {
                    Apiary made =
                            new Apiary(
                                    Ids.next(),
                                    name,
                                    plan.timeZone(),
                                    plan.hemisphere(),
                                    null,
                                    null,
                                    "",
                                    now,
                                    1);
                    newApiaries.put(made.id(), made);
                    return made;
                });
    }

    /**
     * @throws NoSuchColony if it had ended by that day, or two are meant
     */
    UUID colony(Apiary apiary, String name, LocalDate day) throws NoSuchColony {
        List<Stay> known =
                stays.computeIfAbsent(
                        apiary.id() + "/" + fold(name),
                        key -> new ArrayList<>(List.of(made(apiary, name))));
        List<Stay> then = known.stream().filter(stay -> stay.holds(day)).toList();
        if (then.isEmpty()) {
            // Old books are often kept under the name that a colony has now.
            then = known.stream().filter(stay -> stay.until().equals(LocalDate.MAX)).toList();
        }
        if (then.isEmpty()) {
            LocalDate last =
                    known.stream().map(Stay::until).max(LocalDate::compareTo).orElseThrow();
            throw new NoSuchColony(
                    "a day up to "
                            + last.minusDays(1)
                            + ": the colony ended then, was renamed or moved away");
        }
        if (then.stream().map(Stay::colonyId).distinct().count() > 1) {
            throw new NoSuchColony("a name that only one colony of this apiary had on that day");
        }
        return then.get(0).colonyId();
    }

    private Stay made(Apiary apiary, String name) {
        Colony made = new Colony(Ids.next(), apiary.id(), name, null, "", now, 1);
        newColonies.put(made.id(), made);
        return new Stay(made.id(), LocalDate.MIN, LocalDate.MAX);
    }

    /** Null for null. */
    UUID operator(String name) {
        if (name == null) {
            return null;
        }
        return operators.computeIfAbsent(
                fold(name),
                key -> {
                    Operator made = new Operator(Ids.next(), name, true, now);
                    newOperators.put(made.id(), made);
                    return made.id();
                });
    }

    /** Null for null. What kind of spirit a new batch is has to be entered on its own page. */
    UUID spirit(String name) {
        if (name == null) {
            return null;
        }
        return spirits.computeIfAbsent(
                fold(name),
                key -> {
                    SpiritBatch made =
                            new SpiritBatch(
                                    Ids.next(),
                                    name,
                                    name,
                                    null,
                                    null,
                                    null,
                                    null,
                                    null,
                                    null,
                                    "From old records.",
                                    now,
                                    1);
                    newSpirits.put(made.id(), made);
                    return made.id();
                });
    }

    /** Why a name leads to no colony; the message ends "expected …". */
    static final class NoSuchColony extends Exception {
        private static final long serialVersionUID = 1L;

        NoSuchColony(String expected) {
            super(expected);
        }
    }
}
