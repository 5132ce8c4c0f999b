package org.evenwash.logger.wash;

import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.analysis.infestation.BeesInSample;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Calibration;
import org.evenwash.logger.store.Calibrations;
import org.evenwash.logger.store.Colonies;
import org.evenwash.logger.store.Corrections;
import org.evenwash.logger.store.CountedWash;
import org.evenwash.logger.store.CountedWashes;
import org.evenwash.logger.store.CycleLine;
import org.evenwash.logger.store.Cycles;
import org.evenwash.logger.store.MiteCount;
import org.evenwash.logger.store.MiteCounts;
import org.evenwash.logger.store.Operators;
import org.evenwash.logger.store.SpiritBatch;
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
        Apiary apiary = Yard.apiary(handle, wash.apiaryId());
        Calibration bees = measuredBy(handle, wash);
        List<String> cautions =
                bees == null ? List.of() : BeeEstimates.cautions(bees, wash.sampleMass_g());
        return new WashSheet(
                wash,
                Yard.colony(handle, wash.colonyId()),
                apiary,
                wash.operatorId() == null
                        ? null
                        : Operators.find(handle, wash.operatorId()).orElseThrow(),
                passes,
                Infestations.of(
                        mites(passes), wash.bees(), wash.beeMeasure(), wash.beesLogSd(), cautions),
                calibrations(handle, wash, bees, cautions, apiary.zone(), passes, demonstration),
                null,
                List.of(),
                null,
                together(handle, wash, demonstration),
                Tickets.ofWash(handle, washId),
                Corrections.ofWash(handle, washId),
                flags(wash, passes),
                demonstration);
    }

    /** Null where no other wash of that day is judged with it. */
    private static WashSheet.Together together(Handle handle, Wash wash, boolean demonstration) {
        List<CountedWash> day =
                CountedWashes.ofColonyOn(handle, wash.colonyId(), wash.sampledOn(), demonstration);
        if (day.size() < 2) {
            return null;
        }
        return SameDay.each(day, Colonies.eventsAround(handle, wash.colonyId())).stream()
                .filter(one -> one.several() && one.holds(wash.id()))
                .findFirst()
                .map(one -> new WashSheet.Together(one, null))
                .orElse(null);
    }

    /** Null until counted. */
    private static Integer mites(List<PassSheet> passes) {
        return passes.stream()
                .filter(sheet -> sheet.pass().kind() == Pass.FIRST)
                .flatMap(sheet -> sheet.firstCount().stream())
                .map(MiteCount::mites)
                .findFirst()
                .orElse(null);
    }

    /** The calibration that the bees rest on; null where they were counted or typed in. */
    private static Calibration measuredBy(Handle handle, Wash wash) {
        // Without a spread the bees were typed in since, and rest on no calibration.
        boolean estimated = wash.beeMeasure().estimated() && wash.beesLogSd() != null;
        return estimated ? Calibrations.beesOf(handle, wash.id()).orElse(null) : null;
    }

    private static WashCalibrations calibrations(
            Handle handle,
            Wash wash,
            Calibration bees,
            List<String> cautions,
            ZoneId zone,
            List<PassSheet> passes,
            boolean demonstration) {
        Calibration recovery = recovery(handle, passes, demonstration).orElse(null);
        return new WashCalibrations(
                bees,
                bees == null ? 0 : CalibrationShelf.age_days(bees, wash.sampledOn(), zone),
                recovery,
                recovery == null ? 0 : CalibrationShelf.age_days(recovery, wash.sampledOn(), zone),
                recovery == null
                        ? null
                        : Infestations.corrected(
                                mites(passes),
                                bees(wash, cautions),
                                CalibrationShelf.readings(recovery, "first"),
                                CalibrationShelf.readings(recovery, "second")));
    }

    private static BeesInSample bees(Wash wash, List<String> cautions) {
        return wash.bees() == null
                ? null
                : new BeesInSample(
                        wash.bees(), wash.beesLogSd() == null ? 0 : wash.beesLogSd(), cautions);
    }

    /** Only for a first wash run as that recipe asks: what was cut short has another recovery. */
    private static Optional<Calibration> recovery(
            Handle handle, List<PassSheet> passes, boolean demonstration) {
        List<CycleLine> cycles =
                passes.stream()
                        .filter(sheet -> sheet.pass().kind() == Pass.FIRST)
                        .flatMap(sheet -> sheet.cycles().stream())
                        .toList();
        if (cycles.size() != 1 || !cycles.get(0).conforms()) {
            return Optional.empty();
        }
        CycleLine cycle = cycles.get(0);
        return CalibrationShelf.recoveryFor(
                handle, cycle.recipeId(), cycle.recipeVersion(), cycle.benchId(), demonstration);
    }

    private static PassSheet pass(Handle handle, WashPass pass) {
        List<CycleLine> cycles = Cycles.ofPass(handle, pass.id());
        SpiritBatch spirit =
                pass.spiritBatchId() == null
                        ? null
                        : SpiritShelf.batch(handle, pass.spiritBatchId());
        return new PassSheet(
                pass,
                spirit,
                spirit == null
                        ? null
                        : SpiritLedger.stateAt(
                                spirit, SpiritBatches.uses(handle, spirit.id()), pass.id()),
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
