package org.evenwash.logger.store;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Pass;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.PreparedBatch;

/**
 * Many records and events in one go: a statement for each would cost a round trip each. None of these
 * fails on what is there already, so that several loggers may insert the same at once.
 */
public final class Arrivals {
    private Arrivals() {}

    /** A jar position of a cycle, and for which pass it was run. */
    public record Loose(UUID cycleId, int position, Pass kind) {}

    /** How long the jar of a cycle stood afterwards. */
    public record Stood(UUID cycleId, Soak soak) {}

    /**
     * Inserts cycles without a clash of their number.
     *
     * @return for each whether it is new; false where a cycle of that id is there already
     */
    public static boolean[] cycles(Handle handle, List<Received<CycleRecord>> all, Instant at) {
        PreparedBatch rows =
                handle.prepareBatch(
                        """
                        INSERT INTO cycle (id, bench_id, outbox_id, sequence, simulated, outcome,
                            started_at, ended_at, clock, duration_s, planned_agitation_s,
                            agitation_s, within_tolerance_s, conforms, departures,
                            continues_cycle_id,
                            recipe_id, recipe_version, recipe_hash, sequence_clash, sha256,
                            record_json, received_at)
                        VALUES (:cycleId, :benchId, :outboxId, :sequence, :simulated, :outcome,
                            :startedAt, :endedAt, :clock, :duration_s, :plannedAgitation_s,
                            :agitation_s, :withinTolerance_s, :conforms, :departures,
                            :continuesCycleId,
                            :recipeId, :recipeVersion, :recipeHash, FALSE, :sha256,
                            :record, :receivedAt)
                        ON CONFLICT (id) DO NOTHING""");
        for (Received<CycleRecord> one : all) {
            CycleRecord cycle = one.message();
            rows.bind("cycleId", cycle.cycleId())
                    .bind("benchId", cycle.benchId())
                    .bind("outboxId", cycle.outboxId())
                    .bind("sequence", cycle.sequence())
                    .bind("simulated", cycle.simulated())
                    .bind("outcome", cycle.outcome())
                    .bind("startedAt", cycle.startedAt())
                    .bind("endedAt", cycle.endedAt())
                    .bind("clock", cycle.clock())
                    .bind("duration_s", cycle.duration_s())
                    .bind("plannedAgitation_s", cycle.plannedAgitation_s())
                    .bind("agitation_s", cycle.agitation_s())
                    .bind("withinTolerance_s", cycle.withinTolerance_s())
                    .bind("conforms", cycle.conformity().conforms())
                    .bind("departures", departures(cycle))
                    .bind("continuesCycleId", cycle.continuesCycleId())
                    .bind("recipeId", cycle.recipe().recipeId())
                    .bind("recipeVersion", cycle.recipe().version())
                    .bind("recipeHash", cycle.recipe().hash())
                    .bind("sha256", one.sha256())
                    .bind("record", one.json())
                    .bind("receivedAt", at)
                    .add();
        }
        return changed(rows);
    }

    private static String departures(CycleRecord cycle) {
        return cycle.conformity().points().stream()
                .filter(point -> !point.ok())
                .map(point -> point.point() + ": " + point.evidence())
                .collect(Collectors.joining("; "));
    }

    /** As {@link #cycles}, for events. */
    public static boolean[] events(Handle handle, List<Received<BenchEvent>> all, Instant at) {
        PreparedBatch rows =
                handle.prepareBatch(
                        """
                        INSERT INTO bench_event (id, bench_id, outbox_id, sequence, simulated,
                            happened_at, clock, kind, tag, cycle_id, ticket_id, text,
                            sequence_clash, sha256, event_json, received_at)
                        VALUES (:eventId, :benchId, :outboxId, :sequence, :simulated,
                            :at, :clock, :kind, :tag, :cycleId, :ticketId, :text,
                            FALSE, :sha256, :event, :receivedAt)
                        ON CONFLICT (id) DO NOTHING""");
        for (Received<BenchEvent> one : all) {
            rows.bindMethods(one.message())
                    .bind("sha256", one.sha256())
                    .bind("event", one.json())
                    .bind("receivedAt", at)
                    .add();
        }
        return changed(rows);
    }

    /** Marks cycles and events whose number another message had claimed. */
    public static void flagClash(Handle handle, Iterable<UUID> messages) {
        for (String table : List.of("cycle", "bench_event")) {
            PreparedBatch rows =
                    handle.prepareBatch(
                            "UPDATE " + table + " SET sequence_clash = TRUE WHERE id = :id");
            messages.forEach(id -> rows.bind("id", id).add());
            changed(rows);
        }
    }

    public static void soaks(Handle handle, List<Stood> all) {
        PreparedBatch rows =
                handle.prepareBatch(
                        """
                        INSERT INTO cycle_soak (cycle_id, position, soak_s, removed)
                        VALUES (:cycle, :position, :soak_s, :removed)
                        ON CONFLICT (cycle_id, position) DO NOTHING""");
        all.forEach(one -> rows.bind("cycle", one.cycleId()).bindMethods(one.soak()).add());
        changed(rows);
    }

    /** Jar positions that wait for a wash to be tied to. */
    public static void unassigned(Handle handle, List<Loose> all) {
        PreparedBatch rows =
                handle.prepareBatch(
                        """
                        INSERT INTO unassigned_position (cycle_id, position, kind)
                        VALUES (:cycleId, :position, :kind)
                        ON CONFLICT (cycle_id, position) DO NOTHING""");
        all.forEach(one -> rows.bindMethods(one).add());
        changed(rows);
    }

    /** Notes that benches spoke, each once; in the order of their ids, so that two loggers never wait crosswise. */
    public static void seen(Handle handle, Map<String, Boolean> simulatedById, Instant at) {
        PreparedBatch rows = handle.prepareBatch(Benches.SEEN);
        simulatedById.entrySet().stream()
                .sorted(Map.Entry.comparingByKey())
                .forEach(
                        bench ->
                                rows.bind("id", bench.getKey())
                                        .bind("simulated", bench.getValue())
                                        .bind("at", at)
                                        .add());
        changed(rows);
    }

    static boolean[] changed(PreparedBatch rows) {
        if (rows.size() == 0) {
            rows.close();
            return new boolean[0];
        }
        int[] counts = rows.execute();
        boolean[] changed = new boolean[counts.length];
        for (int i = 0; i < counts.length; i++) {
            changed[i] = counts[i] == 1;
        }
        return changed;
    }
}
