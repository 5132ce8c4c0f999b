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
        try (RowBatch rows =
                new RowBatch(
                        handle,
                        """
                        INSERT INTO cycle (id, bench_id, outbox_id, sequence, simulated, outcome,
                            started_at, ended_at, clock, duration_s, planned_agitation_s,
                            agitation_s, within_tolerance_s, conforms, departures,
                            continues_cycle_id, recipe_id, recipe_version, recipe_hash, sha256,
                            record_json, received_at, sequence_clash)
                        VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?,
                            FALSE)
                        ON CONFLICT (id) DO NOTHING""")) {
            for (Received<CycleRecord> one : all) {
                CycleRecord cycle = one.message();
                rows.id(cycle.cycleId())
                        .text(cycle.benchId())
                        .id(cycle.outboxId())
                        .number(cycle.sequence())
                        .truth(cycle.simulated())
                        .name(cycle.outcome())
                        .moment(cycle.startedAt())
                        .moment(cycle.endedAt())
                        .name(cycle.clock())
                        .real(cycle.duration_s())
                        .real(cycle.plannedAgitation_s())
                        .real(cycle.agitation_s())
                        .real(cycle.withinTolerance_s())
                        .truth(cycle.conformity().conforms())
                        .text(departures(cycle))
                        .id(cycle.continuesCycleId())
                        .text(cycle.recipe().recipeId())
                        .number(cycle.recipe().version())
                        .text(cycle.recipe().hash())
                        .text(one.sha256())
                        .text(one.json())
                        .moment(at)
                        .add();
            }
            return rows.changed();
        }
    }

    private static String departures(CycleRecord cycle) {
        return cycle.conformity().points().stream()
                .filter(point -> !point.ok())
                .map(point -> point.point() + ": " + point.evidence())
                .collect(Collectors.joining("; "));
    }

    /** As {@link #cycles}, for events. */
    public static boolean[] events(Handle handle, List<Received<BenchEvent>> all, Instant at) {
        try (RowBatch rows =
                new RowBatch(
                        handle,
                        """
                        INSERT INTO bench_event (id, bench_id, outbox_id, sequence, simulated,
                            happened_at, clock, kind, tag, cycle_id, ticket_id, text,
                            sha256, event_json, received_at, sequence_clash)
                        VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, FALSE)
                        ON CONFLICT (id) DO NOTHING""")) {
            for (Received<BenchEvent> one : all) {
                BenchEvent event = one.message();
                rows.id(event.eventId())
                        .text(event.benchId())
                        .id(event.outboxId())
                        .number(event.sequence())
                        .truth(event.simulated())
                        .moment(event.at())
                        .name(event.clock())
                        .name(event.kind())
                        .text(event.tag())
                        .id(event.cycleId())
                        .id(event.ticketId())
                        .text(event.text())
                        .text(one.sha256())
                        .text(one.json())
                        .moment(at)
                        .add();
            }
            return rows.changed();
        }
    }

    /** Marks cycles and events whose number another message had claimed. */
    public static void flagClash(Handle handle, Iterable<UUID> messages) {
        for (String table : List.of("cycle", "bench_event")) {
            PreparedBatch rows =
                    handle.prepareBatch(
                            "UPDATE " + table + " SET sequence_clash = TRUE WHERE id = :id");
            messages.forEach(id -> rows.bind("id", id).add());
            execute(rows);
        }
    }

    public static void soaks(Handle handle, List<Stood> all) {
        try (RowBatch rows =
                new RowBatch(
                        handle,
                        """
                        INSERT INTO cycle_soak (cycle_id, position, soak_s, removed)
                        VALUES (?, ?, ?, ?)
                        ON CONFLICT (cycle_id, position) DO NOTHING""")) {
            for (Stood one : all) {
                rows.id(one.cycleId())
                        .number(one.soak().position())
                        .real(one.soak().soak_s())
                        .truth(one.soak().removed())
                        .add();
            }
            rows.changed();
        }
    }

    /** Jar positions that wait for a wash to be tied to. */
    public static void unassigned(Handle handle, List<Loose> all) {
        try (RowBatch rows =
                new RowBatch(
                        handle,
                        """
                        INSERT INTO unassigned_position (cycle_id, position, kind)
                        VALUES (?, ?, ?)
                        ON CONFLICT (cycle_id, position) DO NOTHING""")) {
            for (Loose one : all) {
                rows.id(one.cycleId()).number(one.position()).name(one.kind()).add();
            }
            rows.changed();
        }
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
        execute(rows);
    }

    /** The library refuses to execute none. */
    private static void execute(PreparedBatch rows) {
        try (rows) {
            if (rows.size() > 0) {
                rows.execute();
            }
        }
    }
}
