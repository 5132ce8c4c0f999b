package org.evenwash.logger.store;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/**
 * Washes with a result, for trends and comparisons. Simulated ones are given only where a demonstration
 * asks for them.
 */
public final class CountedWashes {
    private static final RowMapper<CountedWash> ROW = ConstructorMapper.of(CountedWash.class);

    /**
     * What makes a {@link CountedWash}, where a wash is joined with its first pass and the count of that.
     * A cycle within a second of its recipe's time counts as that, so that whole ones stay alike;
     * another counts as what it was, to the second.
     */
    static final String COLUMNS =
            """
            wash.id, wash.colony_id, wash.apiary_id, wash.sampled_on, wash.bees, wash.bee_measure,
                wash.bees_log_sd, mite_count.mites,
                COALESCE((SELECT SUM(CASE
                            WHEN ABS(cycle.agitation_s - cycle.planned_agitation_s) < 1
                            THEN cycle.planned_agitation_s
                            ELSE ROUND(cycle.agitation_s) END)
                        FROM pass_cycle
                        JOIN cycle ON cycle.id = pass_cycle.cycle_id
                        WHERE pass_cycle.pass_id = pass.id), pass.hand_agitation_s)
                    AS agitation_s
            """;

    private static final String SELECT =
            "SELECT "
                    + COLUMNS
                    + """
            FROM wash
            JOIN pass ON pass.wash_id = wash.id AND pass.kind = 'FIRST'
            JOIN mite_count ON mite_count.pass_id = pass.id AND NOT mite_count.recount
            WHERE wash.removed_at IS NULL AND wash.bees IS NOT NULL
                AND (:simulatedToo OR NOT wash.simulated)
            """;

    private CountedWashes() {}

    /** Oldest first. */
    public static List<CountedWash> ofColony(
            Handle handle, UUID colonyId, LocalDate from, boolean simulatedToo) {
        return handle.createQuery(
                        SELECT
                                + """
                                 AND wash.colony_id = :colony AND wash.sampled_on >= :from
                                ORDER BY wash.sampled_on, wash.planned_at, wash.id""")
                .bind("simulatedToo", simulatedToo)
                .bind("colony", colonyId)
                .bind("from", from)
                .map(ROW)
                .list();
    }

    /** On one day. */
    public static List<CountedWash> ofColonyOn(
            Handle handle, UUID colonyId, LocalDate day, boolean simulatedToo) {
        return handle.createQuery(
                        SELECT
                                + """
                                 AND wash.colony_id = :colony AND wash.sampled_on = :day
                                ORDER BY wash.planned_at, wash.id""")
                .bind("simulatedToo", simulatedToo)
                .bind("colony", colonyId)
                .bind("day", day)
                .map(ROW)
                .list();
    }

    /** Of all colonies that stood in an apiary when they were washed, oldest first; both days included. */
    public static List<CountedWash> ofApiary(
            Handle handle, UUID apiaryId, LocalDate from, LocalDate to, boolean simulatedToo) {
        return handle.createQuery(
                        SELECT
                                + """
                                 AND wash.apiary_id = :apiary AND wash.sampled_on >= :from
                                    AND wash.sampled_on <= :to
                                ORDER BY wash.sampled_on, wash.planned_at, wash.id""")
                .bind("simulatedToo", simulatedToo)
                .bind("apiary", apiaryId)
                .bind("from", from)
                .bind("to", to)
                .map(ROW)
                .list();
    }

    /** First and last day on which a colony was washed with a result. */
    public record Days(LocalDate first, LocalDate last) {}

    public static Optional<Days> daysOfColony(Handle handle, UUID colonyId, boolean simulatedToo) {
        return handle.createQuery(
                        "SELECT MIN(sampled_on) AS first, MAX(sampled_on) AS last FROM ("
                                + SELECT
                                + " AND wash.colony_id = :colony) counted")
                .bind("simulatedToo", simulatedToo)
                .bind("colony", colonyId)
                .map(ConstructorMapper.of(Days.class))
                .findOne()
                .filter(days -> days.first() != null);
    }

    /** The last day on which a colony of an apiary was washed with a result. */
    public static Optional<LocalDate> lastDayAt(
            Handle handle, UUID apiaryId, boolean simulatedToo) {
        return handle.createQuery(
                        SELECT
                                + """
                                 AND wash.apiary_id = :apiary
                                ORDER BY wash.sampled_on DESC LIMIT 1""")
                .bind("simulatedToo", simulatedToo)
                .bind("apiary", apiaryId)
                .map(ROW)
                .findOne()
                .map(CountedWash::sampledOn);
    }

    /** How many results of a colony are left out because they were simulated. */
    public static int simulatedOf(Handle handle, UUID colonyId) {
        return handle.createQuery(
                        "SELECT COUNT(*) FROM ("
                                + SELECT
                                + " AND wash.colony_id = :colony AND wash.simulated) simulated")
                .bind("simulatedToo", true)
                .bind("colony", colonyId)
                .mapTo(Integer.class)
                .one();
    }
}
