package org.evenwash.logger.store;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** The latest washes of all living colonies, in one query however many there are. */
public final class ColonyWashes {
    private static final RowMapper<Line> ROW = ConstructorMapper.of(Line.class);

    private ColonyWashes() {}

    /**
     * One wash of one colony.
     *
     * @param mites first wash, first count; null until counted
     */
    public record Line(
            UUID colonyId,
            LocalDate sampledOn,
            Double bees,
            BeeMeasure beeMeasure,
            Double beesLogSd,
            Integer mites) {}

    /**
     * Each colony's latest washes, oldest first; more than {@code most} only where the oldest day
     * holds several.
     */
    public static List<Line> latest(Handle handle, int most) {
        // The day from which a colony's washes are wanted is looked up once a colony by the index
        // on
        // (colony_id, sampled_on); numbering all washes would read every row of the book.
        // MATERIALIZED
        // and CROSS JOIN keep SQLite from walking the washes first: 30 ms against 500 for 500
        // colonies
        // with 100,000 washes.
        return handle.createQuery(
                        """
                        WITH wanted AS MATERIALIZED (
                            SELECT colony.id AS colony_id, COALESCE((
                                SELECT earlier.sampled_on FROM wash earlier
                                WHERE earlier.colony_id = colony.id AND earlier.removed_at IS NULL
                                ORDER BY earlier.sampled_on DESC LIMIT 1 OFFSET :before), '') AS since
                            FROM colony WHERE colony.ended_on IS NULL)
                        SELECT wash.colony_id, wash.sampled_on, wash.bees, wash.bee_measure,
                            wash.bees_log_sd, mite_count.mites
                        FROM wanted
                        CROSS JOIN wash
                        LEFT JOIN pass ON pass.wash_id = wash.id AND pass.kind = 'FIRST'
                        LEFT JOIN mite_count ON mite_count.pass_id = pass.id
                            AND NOT mite_count.recount
                        WHERE wash.colony_id = wanted.colony_id
                            AND wash.sampled_on >= wanted.since AND wash.removed_at IS NULL
                        ORDER BY wash.colony_id, wash.sampled_on, wash.planned_at""")
                .bind("before", most - 1)
                .map(ROW)
                .list();
    }
}
