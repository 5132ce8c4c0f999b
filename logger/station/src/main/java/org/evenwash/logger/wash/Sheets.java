package org.evenwash.logger.wash;

import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.evenwash.analysis.Result;
import org.evenwash.logger.store.Corrections;
import org.evenwash.logger.store.CycleLine;
import org.evenwash.logger.store.Cycles;
import org.evenwash.logger.store.MiteCount;
import org.evenwash.logger.store.MiteCounts;
import org.evenwash.logger.store.Operators;
import org.evenwash.logger.store.SpiritBatches;
import org.evenwash.logger.store.Tickets;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.store.WashPass;
import org.evenwash.logger.store.Washes;
import org.evenwash.record.Pass;
import org.jdbi.v3.core.Handle;

/** Puts together everything about one wash. */
public final class Sheets {
    private final Desk desk;
    private final Standards standards;

    Sheets(Desk desk, Standards standards) {
        this.desk = desk;
        this.standards = standards;
    }

    public WashSheet of(UUID washId) {
        boolean demonstration = desk.demonstration();
        return desk.read(
                handle -> {
                    WashSheet sheet = sheet(handle, washId, demonstration);
                    UUID apiaryId = sheet.apiary().id();
                    return sheet.judged(
                            standards.protocol(handle, apiaryId),
                            standards.threshold(handle, apiaryId));
                });
    }

    private static WashSheet sheet(Handle handle, UUID washId, boolean demonstration) {
        Wash wash = WashBook.wash(handle, washId);
        List<PassSheet> passes =
                Washes.passes(handle, washId).stream().map(pass -> pass(handle, pass)).toList();
        return new WashSheet(
                wash,
                Yard.colony(handle, wash.colonyId()),
                Yard.apiary(handle, wash.apiaryId()),
                wash.operatorId() == null
                        ? null
                        : Operators.find(handle, wash.operatorId()).orElseThrow(),
                passes,
                infestation(wash, passes),
                null,
                List.of(),
                null,
                Tickets.ofWash(handle, washId),
                Corrections.ofWash(handle, washId),
                flags(wash, passes),
                demonstration);
    }

    private static Result infestation(Wash wash, List<PassSheet> passes) {
        Integer mites =
                passes.stream()
                        .filter(sheet -> sheet.pass().kind() == Pass.FIRST)
                        .flatMap(sheet -> sheet.firstCount().stream())
                        .map(MiteCount::mites)
                        .findFirst()
                        .orElse(null);
        return Infestations.of(mites, wash.bees(), wash.beeMeasure(), wash.beesLogSd());
    }

    private static PassSheet pass(Handle handle, WashPass pass) {
        List<CycleLine> cycles = Cycles.ofPass(handle, pass.id());
        return new PassSheet(
                pass,
                pass.spiritBatchId() == null
                        ? null
                        : SpiritShelf.batch(handle, pass.spiritBatchId()),
                SpiritBatches.useNumber(handle, pass.id()).orElse(null),
                cycles,
                cycles.isEmpty()
                        ? pass.handAgitation_s()
                        : Double.valueOf(cycles.stream().mapToDouble(CycleLine::agitation_s).sum()),
                Cycles.soakOf(handle, pass.id()).orElse(null),
                MiteCounts.ofPass(handle, pass.id()));
    }

    private static List<String> flags(Wash wash, List<PassSheet> passes) {
        List<String> flags = new ArrayList<>();
        if (wash.simulated()) {
            flags.add("Simulated: no real bees were washed.");
        }
        if (wash.removedAt() != null) {
            flags.add("Removed as a mistake; it counts nowhere.");
        }
        for (PassSheet sheet : passes) {
            String name = words(sheet.pass().kind());
            if (sheet.cycles().size() > 1) {
                flags.add(
                        "The "
                                + name
                                + " took "
                                + sheet.cycles().size()
                                + " cycles; their agitation is added up.");
            }
            for (CycleLine cycle : sheet.cycles()) {
                if (cycle.sequenceClash()) {
                    flags.add(
                            "Another message has the same number as a cycle of the "
                                    + name
                                    + ": was a memory card copied?");
                }
            }
        }
        return flags;
    }

    static String words(Pass kind) {
        return switch (kind) {
            case FIRST -> "first wash";
            case SECOND -> "second wash";
            case BLANK -> "blank run";
        };
    }
}
