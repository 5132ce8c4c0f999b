package org.evenwash.logger.store;

import java.util.Collection;
import java.util.List;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Colonies with their last results, in one query however many there are. */
public final class ColonyLines {
    private ColonyLines() {}

    /**
     * All colonies.
     *
     * @param apiaryId null for every apiary
     * @param endedToo whether those that ended are in it
     * @param simulatedToo whether simulated results count
     */
    public static List<ColonyLine> all(
            Handle handle, UUID apiaryId, boolean endedToo, boolean simulatedToo) {
        // The last result is looked up once a colony by the index on (colony_id, sampled_on);
        // numbering all washes would read every row of the book. MATERIALIZED keeps the look-up
        // from
        // being repeated for every column.
        return handle.createQuery(
                        """
                        WITH listed AS MATERIALIZED (
                            SELECT colony.id, colony.name, colony.apiary_id, colony.ended_on,
                                (SELECT wash.sampled_on FROM wash
                                    WHERE wash.colony_id = colony.id AND wash.removed_at IS NULL
                                        AND (:simulatedToo OR NOT wash.simulated)
                                    ORDER BY wash.sampled_on DESC LIMIT 1) AS last_wash,
                                (SELECT wash.id FROM wash
                                    JOIN pass ON pass.wash_id = wash.id AND pass.kind = 'FIRST'
                                    JOIN mite_count ON mite_count.pass_id = pass.id
                                        AND NOT mite_count.recount
                                    WHERE wash.colony_id = colony.id AND wash.removed_at IS NULL
                                        AND wash.bees IS NOT NULL
                                        AND (:simulatedToo OR NOT wash.simulated)
                                    ORDER BY wash.sampled_on DESC, wash.planned_at DESC
                                    LIMIT 1) AS wash_id
                            FROM colony
                            WHERE (:endedToo OR colony.ended_on IS NULL)
                                AND (:apiary = '' OR colony.apiary_id = :apiary))
                        SELECT listed.id, listed.name, listed.apiary_id, apiary.name AS apiary,
                            listed.ended_on, listed.last_wash, wash.id AS wash_id, wash.sampled_on,
                            wash.bees, wash.bee_measure, wash.bees_log_sd, mite_count.mites
                        FROM listed
                        JOIN apiary ON apiary.id = listed.apiary_id
                        LEFT JOIN wash ON wash.id = listed.wash_id
                        LEFT JOIN pass ON pass.wash_id = wash.id AND pass.kind = 'FIRST'
                        LEFT JOIN mite_count ON mite_count.pass_id = pass.id
                            AND NOT mite_count.recount""")
                .bind("simulatedToo", simulatedToo)
                .bind("endedToo", endedToo)
                .bind("apiary", apiaryId == null ? "" : apiaryId.toString())
                .map(ConstructorMapper.of(ColonyLine.class))
                .list();
    }

    /** Each colony's latest results, oldest first, at most {@code most} and those of the same day. */
    public static List<CountedWash> latest(
            Handle handle, Collection<UUID> colonies, int most, boolean simulatedToo) {
        if (colonies.isEmpty()) {
            return List.of();
        }
        return handle.createQuery(
                        """
                        WITH wanted AS MATERIALIZED (
                            SELECT colony.id AS colony_id, COALESCE((
                                SELECT earlier.sampled_on FROM wash earlier
                                WHERE earlier.colony_id = colony.id AND earlier.removed_at IS NULL
                                ORDER BY earlier.sampled_on DESC LIMIT 1 OFFSET :before), '') AS since
                            FROM colony WHERE colony.id IN (<colonies>))
                        SELECT wash.id, wash.colony_id, wash.apiary_id, wash.sampled_on, wash.bees,
                            wash.bee_measure, wash.bees_log_sd, mite_count.mites
                        FROM wanted
                        CROSS JOIN wash
                        JOIN pass ON pass.wash_id = wash.id AND pass.kind = 'FIRST'
                        JOIN mite_count ON mite_count.pass_id = pass.id
                            AND NOT mite_count.recount
                        WHERE wash.colony_id = wanted.colony_id
                            AND wash.sampled_on >= wanted.since AND wash.removed_at IS NULL
                            AND wash.bees IS NOT NULL AND (:simulatedToo OR NOT wash.simulated)
                        ORDER BY wash.colony_id, wash.sampled_on, wash.planned_at""")
                .bind("before", most - 1)
                .bind("simulatedToo", simulatedToo)
                .bindList("colonies", List.copyOf(colonies))
                .map(ConstructorMapper.of(CountedWash.class))
                .list();
    }
}
