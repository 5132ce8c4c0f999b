package org.evenwash.logger.store;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Pass;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code cycle}, {@code pass_cycle} and {@code unassigned_position}. */
public final class Cycles {
    private static final String LINE_COLUMNS =
            """
            cycle.id, cycle.bench_id, cycle.outbox_id, cycle.sequence, cycle.simulated,
            cycle.outcome, cycle.started_at, cycle.ended_at, cycle.clock, cycle.duration_s,
            cycle.planned_agitation_s, cycle.agitation_s, cycle.within_tolerance_s, cycle.conforms,
            cycle.departures, cycle.continues_cycle_id, cycle.recipe_id, cycle.recipe_version, cycle.recipe_hash,
            cycle.sequence_clash, cycle.sha256, cycle.received_at""";
    private static final RowMapper<CycleLine> LINE = ConstructorMapper.of(CycleLine.class);
    private static final RowMapper<UnassignedCycle> UNASSIGNED =
            ConstructorMapper.of(UnassignedCycle.class);

    private static final RowMapper<Soak> SOAK = ConstructorMapper.of(Soak.class);

    private Cycles() {}

    /** False when a cycle of that id is already there. */
    public static boolean insert(
            Handle handle, CycleRecord cycle, String sha256, boolean clash, Instant at) {
        Received<CycleRecord> one = new Received<>(cycle, Json.write(cycle), sha256);
        boolean isNew = Arrivals.cycles(handle, List.of(one), at)[0];
        if (clash) {
            Arrivals.flagClash(handle, List.of(cycle.cycleId()));
        }
        return isNew;
    }

    /** Hash of the payload that is stored under this id. */
    public static long count(Handle handle) {
        return handle.createQuery("SELECT COUNT(*) FROM cycle").mapTo(Long.class).one();
    }

    public static Optional<String> sha256(Handle handle, UUID cycleId) {
        return handle.createQuery("SELECT sha256 FROM cycle WHERE id = :id")
                .bind("id", cycleId)
                .mapTo(String.class)
                .findOne();
    }

    public static Optional<CycleLine> find(Handle handle, UUID cycleId) {
        return handle.createQuery("SELECT " + LINE_COLUMNS + " FROM cycle WHERE id = :id")
                .bind("id", cycleId)
                .map(LINE)
                .findOne();
    }

    public static Optional<CycleRecord> record(Handle handle, UUID cycleId) {
        return handle.createQuery("SELECT record_json FROM cycle WHERE id = :id")
                .bind("id", cycleId)
                .mapTo(String.class)
                .findOne()
                .map(json -> Json.read(json, CycleRecord.class));
    }

    /** Newest first; of all benches when {@code benchId} is null. */
    public static Listing<CycleLine> list(Handle handle, String benchId, Page page) {
        String where = benchId == null ? "" : " WHERE bench_id = :bench";
        var rows =
                handle.createQuery(
                        "SELECT "
                                + LINE_COLUMNS
                                + " FROM cycle"
                                + where
                                + " ORDER BY started_at DESC, id LIMIT :size OFFSET :offset");
        var count = handle.createQuery("SELECT COUNT(*) FROM cycle" + where);
        if (benchId != null) {
            rows.bind("bench", benchId);
            count.bind("bench", benchId);
        }
        return new Listing<>(
                rows.bind("size", page.size()).bind("offset", page.offset()).map(LINE).list(),
                count.mapTo(Long.class).one(),
                page);
    }

    /** Cycles of a pass in the order in which they were run. */
    public static List<CycleLine> ofPass(Handle handle, UUID passId) {
        return handle.createQuery(
                        "SELECT "
                                + LINE_COLUMNS
                                + """
                                 FROM pass_cycle JOIN cycle ON cycle.id = pass_cycle.cycle_id
                                WHERE pass_cycle.pass_id = :pass ORDER BY cycle.started_at, cycle.id""")
                .bind("pass", passId)
                .map(LINE)
                .list();
    }

    /** Ties a jar position to a pass; false when it is tied already. */
    public static boolean attach(
            Handle handle, UUID cycleId, int position, UUID passId, UUID by, Instant at) {
        boolean tied =
                handle.createUpdate(
                                        """
                                        INSERT INTO pass_cycle (cycle_id, position, pass_id, attached_at,
                                            attached_by)
                                        VALUES (:cycle, :position, :pass, :at, :by)
                                        ON CONFLICT (cycle_id, position) DO NOTHING""")
                                .bind("cycle", cycleId)
                                .bind("position", position)
                                .bind("pass", passId)
                                .bind("at", at)
                                .bind("by", by)
                                .execute()
                        == 1;
        if (tied) {
            handle.createUpdate(
                            """
                            DELETE FROM unassigned_position
                            WHERE cycle_id = :cycle AND position = :position""")
                    .bind("cycle", cycleId)
                    .bind("position", position)
                    .execute();
        }
        return tied;
    }

    public static boolean detach(Handle handle, UUID cycleId, int position) {
        return handle.createUpdate(
                                """
                                DELETE FROM pass_cycle
                                WHERE cycle_id = :cycle AND position = :position""")
                        .bind("cycle", cycleId)
                        .bind("position", position)
                        .execute()
                == 1;
    }

    /** The pass a jar position is tied to. */
    public static Optional<UUID> passOf(Handle handle, UUID cycleId, int position) {
        return handle.createQuery(
                        """
                        SELECT pass_id FROM pass_cycle
                        WHERE cycle_id = :cycle AND position = :position""")
                .bind("cycle", cycleId)
                .bind("position", position)
                .mapTo(UUID.class)
                .findOne();
    }

    /** The jar position at which a cycle belongs to a pass; empty if it does not. */
    public static Optional<Integer> positionIn(Handle handle, UUID cycleId, UUID passId) {
        return handle.createQuery(
                        """
                        SELECT position FROM pass_cycle
                        WHERE cycle_id = :cycle AND pass_id = :pass ORDER BY position""")
                .bind("cycle", cycleId)
                .bind("pass", passId)
                .mapTo(Integer.class)
                .findFirst();
    }

    public static void leaveUnassigned(Handle handle, UUID cycleId, int position, Pass kind) {
        handle.createUpdate(
                        """
                        INSERT INTO unassigned_position (cycle_id, position, kind)
                        VALUES (:cycle, :position, :kind) ON CONFLICT (cycle_id, position) DO NOTHING""")
                .bind("cycle", cycleId)
                .bind("position", position)
                .bind("kind", kind)
                .execute();
    }

    /** Newest first. */
    public static Listing<UnassignedCycle> unassigned(Handle handle, Page page) {
        List<UnassignedCycle> rows =
                handle.createQuery(
                                """
                                SELECT cycle.id AS cycle_id, waiting.position, waiting.kind, cycle.bench_id,
                                    cycle.started_at, cycle.outcome, cycle.agitation_s, cycle.conforms,
                                    cycle.simulated
                                FROM unassigned_position waiting JOIN cycle ON cycle.id = waiting.cycle_id
                                ORDER BY cycle.started_at DESC, cycle.id, waiting.position
                                LIMIT :size OFFSET :offset""")
                        .bind("size", page.size())
                        .bind("offset", page.offset())
                        .map(UNASSIGNED)
                        .list();
        long total =
                handle.createQuery("SELECT COUNT(*) FROM unassigned_position")
                        .mapTo(Long.class)
                        .one();
        return new Listing<>(rows, total, page);
    }

    /** How long the jar of a pass stood in spirit after its last cycle. */
    public static Optional<Soak> soakOf(Handle handle, UUID passId) {
        return handle.createQuery(
                        """
                        SELECT cycle_soak.position, cycle_soak.soak_s, cycle_soak.removed
                        FROM pass_cycle
                        JOIN cycle ON cycle.id = pass_cycle.cycle_id
                        JOIN cycle_soak ON cycle_soak.cycle_id = cycle.id
                            AND cycle_soak.position = pass_cycle.position
                        WHERE pass_cycle.pass_id = :pass ORDER BY cycle.started_at DESC LIMIT 1""")
                .bind("pass", passId)
                .map(SOAK)
                .findOne();
    }
}
