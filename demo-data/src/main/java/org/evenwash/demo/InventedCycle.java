package org.evenwash.demo;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.evenwash.record.ClockState;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Outcome;
import org.evenwash.record.Pass;
import org.evenwash.record.Position;
import org.evenwash.record.RecipeSheet;
import org.evenwash.record.ShippedRecipes;

/** The record of a cycle that ran as asked, on a bench that never was. */
final class InventedCycle {
    private static final String BENCH = "archive-bench";
    private static final UUID BOOT = new UUID(1, 1);
    private static final UUID OUTBOX = new UUID(2, 2);
    private static final RecipeSheet RECIPE = ShippedRecipes.TWO_MINUTES_IN_THREE_BOUTS;

    private InventedCycle() {}

    static CycleRecord of(long sequence, Instant at, UUID washId) {
        List<CycleRecord.BoutDone> bouts = new ArrayList<>();
        List<CycleRecord.RestDone> rests = new ArrayList<>();
        List<Double> trace = new ArrayList<>();
        double after_s = 0;
        double agitation_s = 0;
        int number = 0;
        for (RecipeSheet.Bout bout : RECIPE.bouts()) {
            number++;
            bouts.add(
                    new CycleRecord.BoutDone(
                            number,
                            after_s,
                            bout.agitation_s(),
                            bout.agitation_s(),
                            bout.speed_rpm(),
                            bout.speed_rpm(),
                            0.0,
                            bout.speed_rpm() + 2.0,
                            bout.agitation_s() * bout.speed_rpm() / 60,
                            bout.agitation_s() - 2 * bout.ramp_s(),
                            false));
            rests.add(
                    new CycleRecord.RestDone(
                            number, after_s + bout.agitation_s(), bout.rest_s(), bout.rest_s()));
            for (int second = 0; second < bout.agitation_s(); second++) {
                trace.add(bout.speed_rpm() + second % 5 - 2.0);
            }
            for (int second = 0; second < bout.rest_s(); second++) {
                trace.add(0.0);
            }
            after_s += bout.agitation_s() + bout.rest_s();
            agitation_s += bout.agitation_s();
        }
        var mild = new CycleRecord.Range(17.0, 17.5, 18.0);
        return new CycleRecord(
                CycleRecord.SCHEMA,
                UUID.nameUUIDFromBytes(("archive " + sequence).getBytes(StandardCharsets.UTF_8)),
                BENCH,
                BOOT,
                OUTBOX,
                sequence,
                true,
                "0.1.0",
                List.of(new Position(1, null, washId, Pass.FIRST)),
                null,
                RECIPE,
                Outcome.COMPLETE,
                null,
                at,
                at.plusMillis(Math.round(after_s * 1_000)),
                ClockState.SYNCHRONISED,
                after_s,
                agitation_s,
                agitation_s,
                agitation_s - 4,
                agitation_s * 3,
                bouts,
                rests,
                List.of(),
                List.of(),
                new CycleRecord.Conditions(
                        mild,
                        mild,
                        new CycleRecord.Range(24.0, 26.0, 31.0),
                        new CycleRecord.Range(12.0, 12.1, 12.2),
                        null),
                new CycleRecord.ScanHealth(18_000, 0, 10.5),
                new CycleRecord.SpeedTrace(1, trace),
                new CycleRecord.Conformity(
                        true,
                        List.of(
                                new CycleRecord.Conformity.Point(
                                        "total agitation", true, "as asked"))));
    }
}
