package org.evenwash.logger.store;

import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Colonies with their last results, in two queries however many there are. */
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
        Map<UUID, List<CountedWash>> lastDays =
                lastDays(handle, apiaryId, endedToo, simulatedToo).stream()
                        .collect(Collectors.groupingBy(CountedWash::colonyId));
        return handle
                .createQuery(
                        """
                        SELECT colony.id, colony.name, colony.apiary_id, apiary.name AS apiary,
                            colony.ended_on,
                            (SELECT wash.sampled_on FROM wash
                                WHERE wash.colony_id = colony.id AND wash.removed_at IS NULL
                                    AND (:simulatedToo OR NOT wash.simulated)
                                ORDER BY wash.sampled_on DESC LIMIT 1) AS last_wash
                        FROM colony
                        JOIN apiary ON apiary.id = colony.apiary_id
                        WHERE (:endedToo OR colony.ended_on IS NULL)
                            AND (:apiary = '' OR colony.apiary_id = :apiary)""")
                .bind("simulatedToo", simulatedToo)
                .bind("endedToo", endedToo)
                .bind("apiary", apiaryId == null ? "" : apiaryId.toString())
                .map(ConstructorMapper.of(Listed.class))
                .stream()
                .map(one -> one.with(lastDays.getOrDefault(one.id(), List.of())))
                .toList();
    }

    /** A colony before its results are known. */
    public record Listed(
            UUID id,
            String name,
            UUID apiaryId,
            String apiary,
            LocalDate endedOn,
            LocalDate lastWash) {
        ColonyLine with(List<CountedWash> lastDay) {
            return new ColonyLine(id, name, apiaryId, apiary, endedOn, lastWash, lastDay);
        }
    }

    private static List<CountedWash> lastDays(
            Handle handle, UUID apiaryId, boolean endedToo, boolean simulatedToo) {
        // The last result is looked up once a colony by the index on (colony_id, sampled_on);
        // numbering all washes would read every row of the book. MATERIALIZED keeps the look-up
        // from being repeated for every column.
        return handle.createQuery(
                        """
                        WITH last_day AS MATERIALIZED (
                            SELECT colony.id AS colony_id,
                                (SELECT wash.sampled_on FROM wash
                                    JOIN pass ON pass.wash_id = wash.id AND pass.kind = 'FIRST'
                                    JOIN mite_count ON mite_count.pass_id = pass.id
                                        AND NOT mite_count.recount
                                    WHERE wash.colony_id = colony.id AND wash.removed_at IS NULL
                                        AND wash.bees IS NOT NULL
                                        AND (:simulatedToo OR NOT wash.simulated)
                                    ORDER BY wash.sampled_on DESC LIMIT 1) AS sampled_on
                            FROM colony
                            WHERE (:endedToo OR colony.ended_on IS NULL)
                                AND (:apiary = '' OR colony.apiary_id = :apiary))
                        SELECT
                        """
                                + CountedWashes.COLUMNS
                                + """
                        FROM last_day
                        CROSS JOIN wash
                        JOIN pass ON pass.wash_id = wash.id AND pass.kind = 'FIRST'
                        JOIN mite_count ON mite_count.pass_id = pass.id
                            AND NOT mite_count.recount
                        WHERE wash.colony_id = last_day.colony_id
                            AND wash.sampled_on = last_day.sampled_on AND wash.removed_at IS NULL
                            AND wash.bees IS NOT NULL AND (:simulatedToo OR NOT wash.simulated)
                        ORDER BY wash.colony_id, wash.planned_at, wash.id""")
                .bind("simulatedToo", simulatedToo)
                .bind("endedToo", endedToo)
                .bind("apiary", apiaryId == null ? "" : apiaryId.toString())
                .map(ConstructorMapper.of(CountedWash.class))
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
                        SELECT
                        """
                                + CountedWashes.COLUMNS
                                + """
                        FROM wanted
                        CROSS JOIN wash
                        JOIN pass ON pass.wash_id = wash.id AND pass.kind = 'FIRST'
                        JOIN mite_count ON mite_count.pass_id = pass.id
                            AND NOT mite_count.recount
                        WHERE wash.colony_id = wanted.colony_id
                            AND wash.sampled_on >= wanted.since AND wash.removed_at IS NULL
                            AND wash.bees IS NOT NULL AND (:simulatedToo OR NOT wash.simulated)
                        ORDER BY wash.colony_id, wash.sampled_on, wash.planned_at,
                            wash.id""")
                .bind("before", most - 1)
                .bind("simulatedToo", simulatedToo)
                .bindList("colonies", List.copyOf(colonies))
                .map(ConstructorMapper.of(CountedWash.class))
                .list();
    }
}
