package org.evenwash.logger.store;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code colony} and {@code colony_event}. */
public final class Colonies {
    private static final RowMapper<Colony> ROW = ConstructorMapper.of(Colony.class);
    private static final RowMapper<ColonyEvent> EVENT = ConstructorMapper.of(ColonyEvent.class);

    private Colonies() {}

    public static void insert(Handle handle, Colony colony) {
        handle.createUpdate(
                        """
                        INSERT INTO colony (id, apiary_id, name, ended_on, remarks, created_at, version)
                        VALUES (:id, :apiaryId, :name, :endedOn, :remarks, :createdAt, :version)""")
                .bindMethods(colony)
                .execute();
    }

    public static Optional<Colony> find(Handle handle, UUID id) {
        return handle.createQuery("SELECT * FROM colony WHERE id = :id")
                .bind("id", id)
                .map(ROW)
                .findOne();
    }

    /** Living colonies of an apiary by that name; names may repeat once a colony has ended. */
    public static Optional<Colony> named(Handle handle, UUID apiaryId, String name) {
        return handle.createQuery(
                        """
                        SELECT * FROM colony
                        WHERE apiary_id = :apiary AND name = :name AND ended_on IS NULL""")
                .bind("apiary", apiaryId)
                .bind("name", name)
                .map(ROW)
                .findFirst();
    }

    /** Colonies that stand in an apiary now, by name. */
    public static List<Colony> living(Handle handle, UUID apiaryId) {
        return handle.createQuery(
                        """
                        SELECT * FROM colony WHERE apiary_id = :apiary AND ended_on IS NULL
                        ORDER BY name""")
                .bind("apiary", apiaryId)
                .map(ROW)
                .list();
    }

    public static Listing<Colony> list(Handle handle, Page page) {
        List<Colony> rows =
                handle.createQuery(
                                "SELECT * FROM colony ORDER BY name, id LIMIT :size OFFSET :offset")
                        .bind("size", page.size())
                        .bind("offset", page.offset())
                        .map(ROW)
                        .list();
        long total = handle.createQuery("SELECT COUNT(*) FROM colony").mapTo(Long.class).one();
        return new Listing<>(rows, total, page);
    }

    /** False when somebody edited the row since {@code version} was read. */
    public static boolean update(Handle handle, Colony colony) {
        return handle.createUpdate(
                                """
                                UPDATE colony SET apiary_id = :apiaryId, name = :name, ended_on = :endedOn,
                                    remarks = :remarks, version = version + 1
                                WHERE id = :id AND version = :version""")
                        .bindMethods(colony)
                        .execute()
                == 1;
    }

    /** Living and ended ones. */
    public static List<Colony> everyOne(Handle handle) {
        return handle.createQuery("SELECT * FROM colony").map(ROW).list();
    }

    /** Of all colonies in order of their days, without those taken back. */
    public static List<ColonyEvent> renamesAndMoves(Handle handle) {
        return handle.createQuery(
                        """
                        SELECT * FROM colony_event
                        WHERE kind IN ('RENAME', 'MOVE') AND withdrawn_at IS NULL
                        ORDER BY on_day, recorded_at""")
                .map(EVENT)
                .list();
    }

    public static Optional<ColonyEvent> findEvent(Handle handle, UUID id) {
        return handle.createQuery("SELECT * FROM colony_event WHERE id = :id")
                .bind("id", id)
                .map(EVENT)
                .findOne();
    }

    /** False when it was taken back before. */
    public static boolean withdrawEvent(Handle handle, UUID id, Instant at) {
        return handle.createUpdate(
                                """
                                UPDATE colony_event SET withdrawn_at = :at
                                WHERE id = :id AND withdrawn_at IS NULL""")
                        .bind("id", id)
                        .bind("at", at)
                        .execute()
                == 1;
    }

    public static void insertEvent(Handle handle, ColonyEvent event) {
        handle.createUpdate(
                        """
                        INSERT INTO colony_event (id, colony_id, kind, on_day, until_day, earlier_name,
                            later_name, from_apiary_id, to_apiary_id, other_colony_id, substance, remarks,
                            recorded_at, recorded_by, withdrawn_at)
                        VALUES (:id, :colonyId, :kind, :onDay, :untilDay, :earlierName,
                            :laterName, :fromApiaryId, :toApiaryId, :otherColonyId, :substance, :remarks,
                            :recordedAt, :recordedBy, :withdrawnAt)""")
                .bindMethods(event)
                .execute();
    }

    /**
     * Events of a colony and those of others that concern it (a colony made from it, or put to it), in
     * order of their days, without those taken back.
     */
    public static List<ColonyEvent> eventsAround(Handle handle, UUID colonyId) {
        return handle.createQuery(
                        """
                        SELECT * FROM colony_event
                        WHERE (colony_id = :colony OR other_colony_id = :colony)
                            AND withdrawn_at IS NULL
                        ORDER BY on_day, recorded_at""")
                .bind("colony", colonyId)
                .map(EVENT)
                .list();
    }

    /**
     * Events from a day on of all colonies that stand in an apiary or were washed there since, in order
     * of their days, without those taken back.
     */
    public static List<ColonyEvent> eventsAt(Handle handle, UUID apiaryId, LocalDate from) {
        return handle.createQuery(
                        """
                        SELECT * FROM colony_event
                        WHERE COALESCE(until_day, on_day) >= :from AND withdrawn_at IS NULL
                            AND (colony_id IN (SELECT id FROM colony WHERE apiary_id = :apiary)
                                OR colony_id IN (SELECT colony_id FROM wash
                                    WHERE apiary_id = :apiary AND sampled_on >= :from
                                        AND removed_at IS NULL)
                                OR other_colony_id IN (SELECT id FROM colony
                                    WHERE apiary_id = :apiary))
                        ORDER BY on_day, recorded_at""")
                .bind("apiary", apiaryId)
                .bind("from", from)
                .map(EVENT)
                .list();
    }

    /** Events of all colonies that touch these days, without those taken back. */
    public static List<ColonyEvent> eventsWithin(Handle handle, LocalDate from, LocalDate to) {
        return handle.createQuery(
                        """
                        SELECT * FROM colony_event
                        WHERE COALESCE(until_day, on_day) >= :from AND on_day <= :to
                            AND withdrawn_at IS NULL
                        ORDER BY on_day, recorded_at""")
                .bind("from", from)
                .bind("to", to)
                .map(EVENT)
                .list();
    }

    /** Events of a colony in order of their days, without those taken back. */
    public static List<ColonyEvent> events(Handle handle, UUID colonyId) {
        return handle.createQuery(
                        """
                        SELECT * FROM colony_event WHERE colony_id = :colony AND withdrawn_at IS NULL
                        ORDER BY on_day, recorded_at""")
                .bind("colony", colonyId)
                .map(EVENT)
                .list();
    }
}
