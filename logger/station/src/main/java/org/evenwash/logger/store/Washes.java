package org.evenwash.logger.store;

import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.record.Ids;
import org.evenwash.record.Pass;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;
import org.jdbi.v3.core.statement.Query;

/** Rows of {@code wash} and {@code pass}. */
public final class Washes {
    static final String INSERT =
            """
            INSERT INTO wash (id, colony_id, apiary_id, sampled_on, operator_id, frame,
                queen_check, bee_measure, bees, bees_log_sd, sample_mass_g, bees_counted_by,
                rinses, frames, liquid_ml, bees_covered, bee_sieve_mm, mite_sieve_mm,
                jar_walls_checked, times_washed, remarks, simulated, planned_at, removed_at, version)
            VALUES (:id, :colonyId, :apiaryId, :sampledOn, :operatorId, :frame,
                :queenCheck, :beeMeasure, :bees, :beesLogSd, :sampleMass_g, :beesCountedBy,
                :rinses, :handling.frames, :handling.liquid_mL, :handling.beesCovered,
                :handling.beeSieve_mm, :handling.miteSieve_mm, :handling.jarWallsChecked,
                :handling.timesWashed, :remarks, :simulated, :plannedAt, :removedAt, :version)""";

    private static final RowMapper<Wash> ROW = ConstructorMapper.of(Wash.class);
    private static final RowMapper<WashPass> PASS = ConstructorMapper.of(WashPass.class);
    private static final RowMapper<WashLine> LINE = ConstructorMapper.of(WashLine.class);

    private Washes() {}

    public static void insert(Handle handle, Wash wash) {
        handle.createUpdate(INSERT).bindMethods(wash).execute();
    }

    public static Optional<Wash> find(Handle handle, UUID id) {
        return handle.createQuery("SELECT * FROM wash WHERE id = :id")
                .bind("id", id)
                .map(ROW)
                .findOne();
    }

    /** False when somebody edited the row since {@code version} was read. */
    public static boolean update(Handle handle, Wash wash) {
        return handle.createUpdate(
                                """
                                UPDATE wash SET sampled_on = :sampledOn, operator_id = :operatorId,
                                    frame = :frame, queen_check = :queenCheck, bee_measure = :beeMeasure,
                                    bees = :bees, bees_log_sd = :beesLogSd, sample_mass_g = :sampleMass_g,
                                    bees_counted_by = :beesCountedBy, rinses = :rinses,
                                    frames = :handling.frames, liquid_ml = :handling.liquid_mL,
                                    bees_covered = :handling.beesCovered,
                                    bee_sieve_mm = :handling.beeSieve_mm,
                                    mite_sieve_mm = :handling.miteSieve_mm,
                                    jar_walls_checked = :handling.jarWallsChecked,
                                    times_washed = :handling.timesWashed,
                                    remarks = :remarks, version = version + 1
                                WHERE id = :id AND version = :version""")
                        .bindMethods(wash)
                        .execute()
                == 1;
    }

    /** False when somebody edited the row since {@code version} was read. */
    public static boolean setRemoved(Handle handle, UUID washId, long version, Instant removedAt) {
        return handle.createUpdate(
                                """
                                UPDATE wash SET removed_at = :removedAt, version = version + 1
                                WHERE id = :id AND version = :version""")
                        .bind("id", washId)
                        .bind("version", version)
                        .bind("removedAt", removedAt)
                        .execute()
                == 1;
    }

    /** A simulated cycle makes its wash a simulated one, for good. */
    public static void markSimulated(Handle handle, UUID washId) {
        handle.createUpdate("UPDATE wash SET simulated = TRUE WHERE id = :id")
                .bind("id", washId)
                .execute();
    }

    /** The pass of that kind, made if it is not there. */
    public static WashPass pass(Handle handle, UUID washId, Pass kind) {
        handle.createUpdate(
                        """
                        INSERT INTO pass (id, wash_id, kind) VALUES (:id, :wash, :kind)
                        ON CONFLICT (wash_id, kind) DO NOTHING""")
                .bind("id", Ids.next())
                .bind("wash", washId)
                .bind("kind", kind)
                .execute();
        return handle.createQuery("SELECT * FROM pass WHERE wash_id = :wash AND kind = :kind")
                .bind("wash", washId)
                .bind("kind", kind)
                .map(PASS)
                .one();
    }

    public static Optional<WashPass> findPass(Handle handle, UUID passId) {
        return handle.createQuery("SELECT * FROM pass WHERE id = :id")
                .bind("id", passId)
                .map(PASS)
                .findOne();
    }

    /** Passes of a wash: first, second, blank. */
    public static List<WashPass> passes(Handle handle, UUID washId) {
        return handle.createQuery(
                        """
                        SELECT * FROM pass WHERE wash_id = :wash
                        ORDER BY CASE kind WHEN 'FIRST' THEN 1 WHEN 'SECOND' THEN 2 ELSE 3 END""")
                .bind("wash", washId)
                .map(PASS)
                .list();
    }

    public static boolean updatePass(Handle handle, WashPass pass) {
        return handle.createUpdate(
                                """
                                UPDATE pass SET spirit_batch_id = :spiritBatchId,
                                    hand_agitation_s = :handAgitation_s, version = version + 1
                                WHERE id = :id AND version = :version""")
                        .bindMethods(pass)
                        .execute()
                == 1;
    }

    /** Newest first. */
    public static Listing<WashLine> list(Handle handle, WashFilter filter, Page page) {
        Map<String, Object> bounds = new LinkedHashMap<>();
        String where = where(filter, bounds);
        List<WashLine> rows =
                lines(
                        handle,
                        where
                                + " ORDER BY sampled_on DESC, planned_at DESC, id DESC"
                                + " LIMIT :size OFFSET :offset",
                        bounds,
                        Map.of("size", page.size(), "offset", page.offset()));
        return new Listing<>(rows, count(handle, filter), page);
    }

    /**
     * Washes older than one of them, newest first: as fast far back as at the front.
     *
     * @param beside null for the newest
     */
    public static List<WashLine> before(Handle handle, WashFilter filter, Wash beside, int size) {
        return beside(handle, filter, beside, size, "<", "DESC");
    }

    /** Washes newer than one of them, newest first: those nearest to it. */
    public static List<WashLine> after(Handle handle, WashFilter filter, Wash beside, int size) {
        return beside(handle, filter, beside, size, ">", "ASC");
    }

    private static List<WashLine> beside(
            Handle handle,
            WashFilter filter,
            Wash beside,
            int size,
            String comparison,
            String order) {
        Map<String, Object> bounds = new LinkedHashMap<>();
        String where = where(filter, bounds);
        if (beside != null) {
            where +=
                    " AND (sampled_on, planned_at, id) "
                            + comparison
                            + " (:besideDay, :besidePlanned, :besideId)";
            bounds.put("besideDay", beside.sampledOn());
            bounds.put("besidePlanned", beside.plannedAt());
            bounds.put("besideId", beside.id());
        }
        String by = " ORDER BY sampled_on # , planned_at # , id # LIMIT :size".replace("#", order);
        return lines(handle, where + by, bounds, Map.of("size", size));
    }

    public static long count(Handle handle, WashFilter filter) {
        Map<String, Object> bounds = new LinkedHashMap<>();
        String where = where(filter, bounds);
        return handle.createQuery("SELECT COUNT(*) FROM wash" + where)
                .bindMap(bounds)
                .mapTo(Long.class)
                .one();
    }

    private static String where(WashFilter filter, Map<String, Object> bounds) {
        List<String> conditions = new ArrayList<>(List.of("wash.removed_at IS NULL"));
        narrow(conditions, bounds, "wash.apiary_id = :apiary", filter.apiaryId());
        narrow(conditions, bounds, "wash.colony_id = :colony", filter.colonyId());
        narrow(conditions, bounds, "wash.sampled_on >= :from", filter.fromDay());
        narrow(conditions, bounds, "wash.sampled_on <= :to", filter.toDay());
        return " WHERE " + String.join(" AND ", conditions);
    }

    /** @param cut which washes: conditions, order and limit */
    private static List<WashLine> lines(
            Handle handle, String cut, Map<String, Object> bounds, Map<String, ?> limits) {
        // The page is cut first, from an index alone: what a line needs is looked up for its rows
        // only.
        Query query =
                handle.createQuery(
                                """
                                SELECT wash.id, wash.sampled_on, wash.colony_id, colony.name AS colony,
                                    wash.apiary_id, apiary.name AS apiary, operator.name AS operator,
                                    wash.bees, wash.bee_measure, wash.bees_log_sd, wash.simulated,
                                    (SELECT mites FROM mite_count
                                        WHERE pass_id = pass.id AND NOT recount) AS mites,
                                    COALESCE((SELECT SUM(cycle.agitation_s) FROM pass_cycle
                                        JOIN cycle ON cycle.id = pass_cycle.cycle_id
                                        WHERE pass_cycle.pass_id = pass.id),
                                        pass.hand_agitation_s) AS agitation_s,
                                    (SELECT MIN(CASE WHEN cycle.conforms THEN 1 ELSE 0 END) = 1
                                        FROM pass_cycle JOIN cycle ON cycle.id = pass_cycle.cycle_id
                                        WHERE pass_cycle.pass_id = pass.id) AS conforms
                                FROM (SELECT id FROM wash"""
                                        + cut
                                        + """
                                        ) listed
                                JOIN wash ON wash.id = listed.id
                                JOIN colony ON colony.id = wash.colony_id
                                JOIN apiary ON apiary.id = wash.apiary_id
                                LEFT JOIN operator ON operator.id = wash.operator_id
                                LEFT JOIN pass ON pass.wash_id = wash.id AND pass.kind = 'FIRST'
                                ORDER BY wash.sampled_on DESC, wash.planned_at DESC, wash.id DESC""")
                        .bindMap(bounds)
                        .bindMap(limits);
        return query.map(LINE).list();
    }

    private static void narrow(
            List<String> conditions, Map<String, Object> bounds, String condition, Object value) {
        if (value != null) {
            conditions.add(condition);
            bounds.put(condition.substring(condition.indexOf(':') + 1), value);
        }
    }
}
