package org.evenwash.logger.store;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code day_plan} and {@code day_plan_wash}. */
public final class DayPlans {
    private static final RowMapper<DayPlan> ROW = ConstructorMapper.of(DayPlan.class);
    private static final RowMapper<Step> STEP = ConstructorMapper.of(Step.class);

    private DayPlans() {}

    /**
     * One wash of a plan, and how far it has come.
     *
     * @param standing of its latest ticket for the first wash, null without one
     * @param shaken whether a cycle or seconds by hand are there
     * @param mites first wash, first count; null until counted
     */
    public record Step(
            int ordinal,
            UUID washId,
            String colony,
            boolean removed,
            StoredTicket.Standing standing,
            String benchId,
            Integer position,
            boolean shaken,
            Double bees,
            BeeMeasure beeMeasure,
            Double beesLogSd,
            Integer mites) {

        public boolean counted() {
            return mites != null;
        }

        /** Still to be sent to a bench: no ticket yet, or one that was taken back. */
        public boolean waits() {
            boolean noTicket = standing == null || standing == StoredTicket.Standing.WITHDRAWN;
            return noTicket && !removed && !shaken && !counted();
        }
    }

    public static void insert(Handle handle, DayPlan plan) {
        handle.createUpdate(
                        """
                        INSERT INTO day_plan (id, apiary_id, on_day, seed, claim_json, created_at,
                            created_by)
                        VALUES (:id, :apiaryId, :onDay, :seed, :claimJson, :createdAt, :createdBy)""")
                .bindMethods(plan)
                .execute();
    }

    public static void insertStep(Handle handle, UUID planId, int ordinal, UUID washId) {
        handle.createUpdate(
                        """
                        INSERT INTO day_plan_wash (plan_id, ordinal, wash_id)
                        VALUES (:plan, :ordinal, :wash)""")
                .bind("plan", planId)
                .bind("ordinal", ordinal)
                .bind("wash", washId)
                .execute();
    }

    public static Optional<DayPlan> find(Handle handle, UUID id) {
        return handle.createQuery("SELECT * FROM day_plan WHERE id = :id")
                .bind("id", id)
                .map(ROW)
                .findOne();
    }

    /** Latest day first. */
    public static List<DayPlan> latest(Handle handle, int most) {
        return handle.createQuery(
                        "SELECT * FROM day_plan ORDER BY on_day DESC, created_at DESC LIMIT :most")
                .bind("most", most)
                .map(ROW)
                .list();
    }

    /** The washes of a plan in their order. */
    public static List<Step> steps(Handle handle, UUID planId) {
        return handle.createQuery(
                        """
                        SELECT day_plan_wash.ordinal, wash.id AS wash_id, colony.name AS colony,
                            wash.removed_at IS NOT NULL AS removed,
                            ticket.standing, ticket.bench_id, ticket.position,
                            (pass.hand_agitation_s IS NOT NULL OR EXISTS (
                                SELECT 1 FROM pass_cycle WHERE pass_cycle.pass_id = pass.id)) AS shaken,
                            wash.bees, wash.bee_measure, wash.bees_log_sd, mite_count.mites
                        FROM day_plan_wash
                        JOIN wash ON wash.id = day_plan_wash.wash_id
                        JOIN colony ON colony.id = wash.colony_id
                        LEFT JOIN pass ON pass.wash_id = wash.id AND pass.kind = 'FIRST'
                        LEFT JOIN mite_count ON mite_count.pass_id = pass.id
                            AND NOT mite_count.recount
                        LEFT JOIN ticket ON ticket.id = (
                            SELECT latest.id FROM ticket latest
                            WHERE latest.wash_id = wash.id AND latest.pass = 'FIRST'
                            ORDER BY latest.issued_at DESC, latest.id LIMIT 1)
                        WHERE day_plan_wash.plan_id = :plan ORDER BY day_plan_wash.ordinal""")
                .bind("plan", planId)
                .map(STEP)
                .list();
    }

    /** The latest ticket that went out for a wash of a plan: its recipe serves the next one too. */
    public static Optional<UUID> latestTicket(Handle handle, UUID planId) {
        return handle.createQuery(
                        """
                        SELECT ticket.id FROM day_plan_wash
                        JOIN ticket ON ticket.wash_id = day_plan_wash.wash_id
                        WHERE day_plan_wash.plan_id = :plan
                        ORDER BY ticket.issued_at DESC, ticket.position DESC LIMIT 1""")
                .bind("plan", planId)
                .mapTo(UUID.class)
                .findOne();
    }
}
