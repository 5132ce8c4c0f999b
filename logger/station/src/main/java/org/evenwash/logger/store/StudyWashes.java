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

    /**
     * First the latest second washes, then what belongs to each: with years of washes most of the time
     * goes into looking up single rows.
     */
    private static final String LATEST =
            """
            WITH latest AS (
                SELECT second.id AS second_id, second.hand_agitation_s AS second_hand_s, wash.id,
                    wash.sampled_on, wash.colony_id, wash.operator_id
                FROM pass second JOIN wash ON wash.id = second.wash_id
                WHERE second.kind = 'SECOND' AND wash.removed_at IS NULL
                    AND (:simulatedToo OR NOT wash.simulated)
                    AND EXISTS (SELECT 1 FROM mite_count
                        WHERE pass_id = second.id AND NOT recount)
                    AND EXISTS (SELECT 1 FROM pass first JOIN mite_count
                        ON mite_count.pass_id = first.id AND NOT recount
                        WHERE first.wash_id = wash.id AND first.kind = 'FIRST')""";

    private static final String STUDIED =
            """
             ORDER BY wash.sampled_on DESC, wash.id LIMIT :looked),
            studied AS (
                SELECT latest.id AS wash_id, latest.sampled_on, colony.name AS colony,
                    latest.operator_id, operator.name AS operator, lead.bench_id, lead.recipe_id,
                    lead.recipe_version, recipe.name AS recipe, first_count.mites AS first_mites,
                    second_count.mites AS second_mites,
                    COALESCE((SELECT SUM(cycle.agitation_s) FROM pass_cycle
                        JOIN cycle ON cycle.id = pass_cycle.cycle_id
                        WHERE pass_cycle.pass_id = first.id), first.hand_agitation_s)
                        AS agitation_s,
                    COALESCE((SELECT SUM(cycle.agitation_s) FROM pass_cycle
                        JOIN cycle ON cycle.id = pass_cycle.cycle_id
                        WHERE pass_cycle.pass_id = latest.second_id), latest.second_hand_s)
                        AS second_agitation_s,
                    lead.conforms AND NOT EXISTS (SELECT 1 FROM pass_cycle
                        JOIN cycle ON cycle.id = pass_cycle.cycle_id
                        WHERE pass_cycle.pass_id = first.id AND NOT cycle.conforms) AS conforms,
                    lead.departures, first.spirit_batch_id AS batch_id,
                    spirit_batch.name AS batch, study_exclusion.why AS excluded_why
                FROM latest
                JOIN pass first ON first.wash_id = latest.id AND first.kind = 'FIRST'
                JOIN mite_count first_count
                    ON first_count.pass_id = first.id AND NOT first_count.recount
                JOIN mite_count second_count
                    ON second_count.pass_id = latest.second_id AND NOT second_count.recount
                JOIN colony ON colony.id = latest.colony_id
                LEFT JOIN operator ON operator.id = latest.operator_id
                LEFT JOIN cycle lead ON lead.id = (SELECT cycle.id FROM pass_cycle
                    JOIN cycle ON cycle.id = pass_cycle.cycle_id
                    WHERE pass_cycle.pass_id = first.id ORDER BY cycle.started_at DESC LIMIT 1)
                LEFT JOIN recipe ON recipe.recipe_id = lead.recipe_id
                    AND recipe.version = lead.recipe_version
                LEFT JOIN spirit_batch ON spirit_batch.id = first.spirit_batch_id
                LEFT JOIN study_exclusion ON study_exclusion.wash_id = latest.id)
            SELECT * FROM studied""";

    private StudyWashes() {}

    /**
     * The latest washes, the latest first.
     *
     * @param cut whether there are more
     */
    public record Latest(List<StudyWash> washes, boolean cut) {
        public Latest {
            washes = List.copyOf(washes);
        }
    }

    /**
     * @param simulatedToo true only in a demonstration
     * @param most washes
     */
    public static Latest latest(Handle handle, StudyFilter filter, boolean simulatedToo, int most) {
        List<StudyWash> found = list(handle, filter, simulatedToo, most + 1);
        boolean cut = found.size() > most;
        return new Latest(cut ? found.subList(0, most) : found, cut);
    }

    private static List<StudyWash> list(
            Handle handle, StudyFilter filter, boolean simulatedToo, int most) {
        Map<String, Object> bounds = new HashMap<>();
        List<String> ofWash = new ArrayList<>();
        narrow(ofWash, bounds, "wash.apiary_id = :apiary", filter.apiaryId());
        narrow(ofWash, bounds, "wash.operator_id = :operator", filter.operatorId());
        narrow(ofWash, bounds, "wash.sampled_on >= :from", filter.from());
        narrow(ofWash, bounds, "wash.sampled_on <= :to", filter.to());
        List<String> ofCycle = new ArrayList<>();
        narrow(ofCycle, bounds, "bench_id = :bench", filter.benchId());
        narrow(ofCycle, bounds, "agitation_s >= :least", filter.least_s());
        narrow(ofCycle, bounds, "agitation_s <= :longest", filter.most_s());
        if (filter.byHand()) {
            ofCycle.add("recipe_id IS NULL");
        } else {
            narrow(ofCycle, bounds, "recipe_id = :recipe", filter.recipeId());
            narrow(ofCycle, bounds, "recipe_version = :version", filter.recipeVersion());
        }
        String and = ofWash.isEmpty() ? "" : " AND " + String.join(" AND ", ofWash);
        String where = ofCycle.isEmpty() ? "" : " WHERE " + String.join(" AND ", ofCycle);
        return handle.createQuery(
                        LATEST
                                + and
                                + STUDIED
                                + where
                                + " ORDER BY sampled_on DESC, wash_id LIMIT :most")
                .bindMap(bounds)
                .bind("simulatedToo", simulatedToo)
                // What the cycle decides is known only of washes that were looked up.
                .bind("looked", ofCycle.isEmpty() ? most : Integer.MAX_VALUE)
                .bind("most", most)
                .map(ROW)
                .list();
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
