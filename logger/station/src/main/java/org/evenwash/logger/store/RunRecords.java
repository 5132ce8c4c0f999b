package org.evenwash.logger.store;

import java.time.Instant;
import java.util.List;
import java.util.UUID;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Outcome;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** What is looked at to see whether work stays even: counts of one catch, samples, cycles. */
public final class RunRecords {
    private static final RowMapper<CatchCount> CATCH = ConstructorMapper.of(CatchCount.class);
    private static final RowMapper<SampleBees> SAMPLE = ConstructorMapper.of(SampleBees.class);

    /** The planned and the actual agitation of one cycle, s. */
    public record Timing(
            UUID id,
            String benchId,
            Instant startedAt,
            Outcome outcome,
            double plannedAgitation_s,
            double agitation_s,
            boolean conforms,
            String departures) {}

    private static final RowMapper<Timing> TIMING = ConstructorMapper.of(Timing.class);

    private RunRecords() {}

    /**
     * All counts of the catches that were counted again, latest catch first.
     *
     * @param filter its apiary, bench, recipe and agitation are not looked at
     * @param mostCatches catches
     */
    public static List<CatchCount> recounted(
            Handle handle, StudyFilter filter, boolean simulatedToo, int mostCatches) {
        return handle.createQuery(
                        """
                        WITH caught AS (
                            SELECT pass.id, pass.kind, wash.id AS wash_id, wash.sampled_on,
                                wash.colony_id
                            FROM pass JOIN wash ON wash.id = pass.wash_id
                            WHERE pass.id IN (SELECT pass_id FROM mite_count WHERE recount)
                                AND wash.removed_at IS NULL
                                AND (:simulatedToo OR NOT wash.simulated)
                                AND wash.sampled_on BETWEEN :from AND :to
                            ORDER BY wash.sampled_on DESC, pass.id LIMIT :most)
                        SELECT caught.wash_id, caught.id AS pass_id, caught.kind AS pass,
                            colony.name AS colony, caught.sampled_on, counted.counted_by AS operator_id,
                            operator.name AS operator, counted.mites, counted.recount, counted.blind
                        FROM caught
                        JOIN mite_count counted ON counted.pass_id = caught.id
                        JOIN colony ON colony.id = caught.colony_id
                        LEFT JOIN operator ON operator.id = counted.counted_by
                        ORDER BY caught.sampled_on DESC, caught.id, counted.recount,
                            counted.counted_at, counted.id""")
                .bind("from", from(filter))
                .bind("to", to(filter))
                .bind("simulatedToo", simulatedToo)
                .bind("most", mostCatches)
                .map(CATCH)
                .list();
    }

    /** Samples with a number of bees, latest first. */
    public static List<SampleBees> samples(
            Handle handle, StudyFilter filter, boolean simulatedToo, int most) {
        boolean one = filter.operatorId() != null;
        boolean there = filter.apiaryId() != null;
        var query =
                handle.createQuery(
                        """
                        SELECT wash.id AS wash_id, wash.sampled_on, colony.name AS colony,
                            operator.name AS operator, wash.bees, wash.bee_measure
                        FROM wash JOIN colony ON colony.id = wash.colony_id
                        LEFT JOIN operator ON operator.id = wash.operator_id
                        WHERE wash.bees IS NOT NULL AND wash.removed_at IS NULL
                            AND (:simulatedToo OR NOT wash.simulated)
                            AND wash.sampled_on BETWEEN :from AND :to"""
                                + (one ? " AND wash.operator_id = :operator" : "")
                                + (there ? " AND wash.apiary_id = :apiary" : "")
                                + " ORDER BY wash.sampled_on DESC, wash.planned_at DESC, wash.id"
                                + " LIMIT :most");
        if (one) {
            query.bind("operator", filter.operatorId());
        }
        if (there) {
            query.bind("apiary", filter.apiaryId());
        }
        return query.bind("from", from(filter))
                .bind("to", to(filter))
                .bind("simulatedToo", simulatedToo)
                .bind("most", most)
                .map(SAMPLE)
                .list();
    }

    /**
     * Cycles, latest first.
     *
     * @param benchId null for all benches
     */
    public static List<Timing> timings(
            Handle handle, String benchId, boolean simulatedToo, int most) {
        var query =
                handle.createQuery(
                        """
                        SELECT id, bench_id, started_at, outcome, planned_agitation_s, agitation_s,
                            conforms, departures
                        FROM cycle WHERE (:simulatedToo OR NOT simulated)"""
                                + (benchId == null ? "" : " AND bench_id = :bench")
                                + " ORDER BY started_at DESC, id LIMIT :most");
        if (benchId != null) {
            query.bind("bench", benchId);
        }
        return query.bind("simulatedToo", simulatedToo).bind("most", most).map(TIMING).list();
    }

    /** The whole records of some cycles. */
    public static List<CycleRecord> records(Handle handle, List<UUID> cycleIds) {
        if (cycleIds.isEmpty()) {
            return List.of();
        }
        return handle
                .createQuery("SELECT record_json FROM cycle WHERE id IN (<ids>)")
                .bindList("ids", cycleIds)
                .mapTo(String.class)
                .stream()
                .map(json -> Json.read(json, CycleRecord.class))
                .toList();
    }

    private static String from(StudyFilter filter) {
        return filter.from() == null ? "0000-01-01" : filter.from().toString();
    }

    private static String to(StudyFilter filter) {
        return filter.to() == null ? "9999-12-31" : filter.to().toString();
    }
}
