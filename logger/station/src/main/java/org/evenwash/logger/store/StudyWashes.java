package org.evenwash.logger.store;

import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Washes whose bees were washed again, and rows of {@code study_exclusion}. */
public final class StudyWashes {
    private static final RowMapper<StudyWash> ROW = ConstructorMapper.of(StudyWash.class);

    /** The sums are small reads by key: only washes with a second wash come this far. */
    private static final String SELECT =
            """
            SELECT wash.id AS wash_id, wash.sampled_on, colony.name AS colony, wash.operator_id,
                operator.name AS operator, lead.bench_id, lead.recipe_id, lead.recipe_version,
                recipe.name AS recipe, first_count.mites AS first_mites,
                second_count.mites AS second_mites,
                COALESCE((SELECT SUM(cycle.agitation_s) FROM pass_cycle
                    JOIN cycle ON cycle.id = pass_cycle.cycle_id
                    WHERE pass_cycle.pass_id = first.id), first.hand_agitation_s) AS agitation_s,
                COALESCE((SELECT SUM(cycle.agitation_s) FROM pass_cycle
                    JOIN cycle ON cycle.id = pass_cycle.cycle_id
                    WHERE pass_cycle.pass_id = second.id), second.hand_agitation_s)
                    AS second_agitation_s,
                lead.conforms AND NOT EXISTS (SELECT 1 FROM pass_cycle
                    JOIN cycle ON cycle.id = pass_cycle.cycle_id
                    WHERE pass_cycle.pass_id = first.id AND NOT cycle.conforms) AS conforms,
                lead.departures, first.spirit_batch_id AS batch_id, spirit_batch.name AS batch,
                study_exclusion.why AS excluded_why
            FROM pass second
            JOIN wash ON wash.id = second.wash_id
            JOIN pass first ON first.wash_id = wash.id AND first.kind = 'FIRST'
            JOIN mite_count first_count
                ON first_count.pass_id = first.id AND NOT first_count.recount
            JOIN mite_count second_count
                ON second_count.pass_id = second.id AND NOT second_count.recount
            JOIN colony ON colony.id = wash.colony_id
            LEFT JOIN operator ON operator.id = wash.operator_id
            LEFT JOIN cycle lead ON lead.id = (SELECT cycle.id FROM pass_cycle
                JOIN cycle ON cycle.id = pass_cycle.cycle_id
                WHERE pass_cycle.pass_id = first.id ORDER BY cycle.started_at DESC LIMIT 1)
            LEFT JOIN recipe ON recipe.recipe_id = lead.recipe_id
                AND recipe.version = lead.recipe_version
            LEFT JOIN spirit_batch ON spirit_batch.id = first.spirit_batch_id
            LEFT JOIN study_exclusion ON study_exclusion.wash_id = wash.id
            WHERE second.kind = 'SECOND' AND wash.removed_at IS NULL
                AND (:simulatedToo OR NOT wash.simulated)""";

    private StudyWashes() {}

    /**
     * Latest sample first.
     *
     * @param simulatedToo true only in a demonstration
     * @param most rows
     */
    public static List<StudyWash> list(
            Handle handle, StudyFilter filter, boolean simulatedToo, int most) {
        Map<String, Object> bounds = new HashMap<>();
        List<String> conditions = new ArrayList<>();
        narrow(conditions, bounds, "wash.apiary_id = :apiary", filter.apiaryId());
        narrow(conditions, bounds, "wash.operator_id = :operator", filter.operatorId());
        narrow(conditions, bounds, "lead.bench_id = :bench", filter.benchId());
        narrow(conditions, bounds, "wash.sampled_on >= :from", filter.from());
        narrow(conditions, bounds, "wash.sampled_on <= :to", filter.to());
        if (filter.byHand()) {
            conditions.add("lead.id IS NULL");
        } else {
            narrow(conditions, bounds, "lead.recipe_id = :recipe", filter.recipeId());
            narrow(conditions, bounds, "lead.recipe_version = :version", filter.recipeVersion());
        }
        String and = conditions.isEmpty() ? "" : " AND " + String.join(" AND ", conditions);
        return handle
                .createQuery(SELECT + and + " ORDER BY wash.sampled_on DESC, wash.id LIMIT :most")
                .bindMap(bounds)
                .bind("simulatedToo", simulatedToo)
                .bind("most", most)
                .map(ROW)
                .stream()
                .filter(wash -> within(wash.agitation_s(), filter))
                .toList();
    }

    private static boolean within(Double agitation_s, StudyFilter filter) {
        boolean longEnough =
                filter.least_s() == null
                        || (agitation_s != null && agitation_s >= filter.least_s());
        boolean shortEnough =
                filter.most_s() == null || (agitation_s != null && agitation_s <= filter.most_s());
        return longEnough && shortEnough;
    }

    private static void narrow(
            List<String> conditions, Map<String, Object> bounds, String condition, Object value) {
        if (value != null) {
            conditions.add(condition);
            bounds.put(condition.substring(condition.indexOf(':') + 1), value);
        }
    }

    /** The reason for which a wash is left out; empty if it is not. */
    public static Optional<String> excludedWhy(Handle handle, UUID washId) {
        return handle.createQuery("SELECT why FROM study_exclusion WHERE wash_id = :wash")
                .bind("wash", washId)
                .mapTo(String.class)
                .findOne();
    }

    /** False when it is left out already. */
    public static boolean exclude(Handle handle, UUID washId, String why, Instant at, UUID by) {
        return handle.createUpdate(
                                """
                                INSERT INTO study_exclusion (wash_id, why, excluded_at, excluded_by)
                                VALUES (:wash, :why, :at, :by) ON CONFLICT (wash_id) DO NOTHING""")
                        .bind("wash", washId)
                        .bind("why", why)
                        .bind("at", at)
                        .bind("by", by)
                        .execute()
                == 1;
    }

    /** False when it is not left out. */
    public static boolean include(Handle handle, UUID washId) {
        return handle.createUpdate("DELETE FROM study_exclusion WHERE wash_id = :wash")
                        .bind("wash", washId)
                        .execute()
                == 1;
    }
}
