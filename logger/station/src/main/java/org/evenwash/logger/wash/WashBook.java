package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.Corrections;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.Handling;
import org.evenwash.logger.store.Listing;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.QueenCheck;
import org.evenwash.logger.store.SpiritBatches;
import org.evenwash.logger.store.SpiritUse;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.store.WashLine;
import org.evenwash.logger.store.WashPass;
import org.evenwash.logger.store.Washes;
import org.evenwash.record.Ids;
import org.evenwash.record.Pass;
import org.jdbi.v3.core.Handle;

/** Washes: planned, sampled, corrected, listed. */
public final class WashBook {
    private final Desk desk;

    WashBook(Desk desk) {
        this.desk = desk;
    }

    /** Plans a wash of a colony; everything but the colony can be entered later. */
    public Wash plan(NewWash planned, By by) {
        UUID id = Ids.next();
        return wash(
                desk.once(
                        by,
                        "plan a wash",
                        id,
                        handle -> Washes.insert(handle, planned(handle, id, planned))));
    }

    Wash planned(Handle handle, UUID id, NewWash planned) {
        Colony colony = Yard.colony(handle, planned.colonyId());
        Apiary apiary = Yard.apiary(handle, colony.apiaryId());
        Desk.mustBeKnown(handle, planned.operatorId());
        LocalDate today = LocalDate.ofInstant(desk.now(), apiary.zone());
        LocalDate day = Objects.requireNonNullElse(planned.sampledOn(), today);
        if (colony.endedOn() != null && day.isAfter(colony.endedOn())) {
            throw Refused.conflict(
                    "colony",
                    "'" + colony.name() + "' ended on " + colony.endedOn(),
                    "choose another colony or an earlier day");
        }
        return new Wash(
                id,
                colony.id(),
                apiary.id(),
                day,
                planned.operatorId(),
                Objects.requireNonNullElse(planned.frame(), Frame.NOT_STATED),
                Objects.requireNonNullElse(planned.queenCheck(), QueenCheck.NOT_STATED),
                BeeMeasure.NOT_STATED,
                null,
                null,
                null,
                null,
                null,
                Handling.at(apiary),
                Entry.text("remarks", planned.remarks()),
                planned.simulated() || desk.demonstration(),
                desk.now(),
                null,
                1);
    }

    /**
     * Enters or corrects what is known of the sample.
     *
     * @param version of the wash that the person saw
     * @param why asked for once bees were entered before; null for a first entry
     * @throws EditedMeanwhile if the wash has changed since
     */
    public Wash enterSample(UUID washId, long version, SampleEntry sample, String why, By by) {
        sample.checked();
        desk.onceAt(
                by,
                "enter a sample of wash",
                washId,
                handle -> {
                    Desk.mustBeKnown(handle, sample.operatorId());
                    Desk.mustBeKnown(handle, sample.beesCountedBy());
                    Wash before = wash(handle, washId);
                    Wash after = after(before, version, sample);
                    boolean correction =
                            before.bees() != null && !before.bees().equals(after.bees());
                    String reason = correction ? Entry.why(why) : "entered";
                    if (!Washes.update(handle, after)) {
                        throw new EditedMeanwhile(
                                "wash",
                                before.version(),
                                Corrections.since(handle, washId, version));
                    }
                    noteChanges(handle, by, before, after, reason);
                });
        return wash(washId);
    }

    /** Enters or corrects the number of bees, and nothing else. */
    public Wash enterBees(
            UUID washId,
            long version,
            BeeMeasure measure,
            double bees,
            Double beesLogSd,
            UUID countedBy,
            String why,
            By by) {
        SampleEntry now = SampleEntry.of(wash(washId));
        return enterSample(
                washId, version, now.withBees(measure, bees, beesLogSd, countedBy), why, by);
    }

    private static Wash after(Wash before, long version, SampleEntry sample) {
        return new Wash(
                before.id(),
                before.colonyId(),
                before.apiaryId(),
                sample.sampledOn(),
                sample.operatorId(),
                sample.frame(),
                sample.queenCheck(),
                sample.beeMeasure(),
                sample.bees(),
                sample.beesLogSd(),
                sample.sampleMass_g(),
                sample.beesCountedBy(),
                sample.rinses(),
                sample.handling(),
                Entry.text("remarks", sample.remarks()),
                before.simulated(),
                before.plannedAt(),
                before.removedAt(),
                version);
    }

    private void noteChanges(Handle handle, By by, Wash before, Wash after, String why) {
        desk.new Changes(handle, by, "sample", before.id(), before.id(), before.version(), why)
                .field("day", before.sampledOn(), after.sampledOn())
                .field("operator", before.operatorId(), after.operatorId())
                .field("frame", before.frame(), after.frame())
                .field("queen check", before.queenCheck(), after.queenCheck())
                .field("how bees were measured", before.beeMeasure(), after.beeMeasure())
                .field("bees", before.bees(), after.bees())
                .field("uncertainty of bees", before.beesLogSd(), after.beesLogSd())
                .field("mass of the sample", before.sampleMass_g(), after.sampleMass_g())
                .field("bees counted by", before.beesCountedBy(), after.beesCountedBy())
                .field("rinses", before.rinses(), after.rinses())
                .field("frames", before.handling().frames(), after.handling().frames())
                .field(
                        "liquid in the jar",
                        before.handling().liquid_mL(),
                        after.handling().liquid_mL())
                .field(
                        "bees covered",
                        before.handling().beesCovered(),
                        after.handling().beesCovered())
                .field(
                        "mesh of the bee sieve",
                        before.handling().beeSieve_mm(),
                        after.handling().beeSieve_mm())
                .field(
                        "mesh of the mite sieve",
                        before.handling().miteSieve_mm(),
                        after.handling().miteSieve_mm())
                .field(
                        "jar and lid checked",
                        before.handling().jarWallsChecked(),
                        after.handling().jarWallsChecked())
                .field(
                        "times washed",
                        before.handling().timesWashed(),
                        after.handling().timesWashed())
                .field("remarks", before.remarks(), after.remarks())
                .done();
    }

    /**
     * Says what a pass was shaken in, and how long where no bench did it.
     *
     * @param spiritBatchId null for none or unknown
     * @param handAgitation_s as timed by a person, null where a bench shook it
     */
    public WashPass enterPass(
            UUID washId, Pass kind, UUID spiritBatchId, Double handAgitation_s, By by) {
        Entry.range("agitation by hand", handAgitation_s, 1, 14_400, "s");
        UUID id =
                desk.onceAt(
                        by,
                        "enter a pass of wash",
                        washId + " " + kind,
                        washId,
                        handle -> {
                            wash(handle, washId);
                            if (spiritBatchId != null) {
                                SpiritShelf.batch(handle, spiritBatchId);
                            }
                            WashPass before = Washes.pass(handle, washId, kind);
                            WashPass after =
                                    new WashPass(
                                            before.id(),
                                            washId,
                                            kind,
                                            spiritBatchId,
                                            handAgitation_s,
                                            before.version());
                            Washes.updatePass(handle, after);
                            noteSpirit(handle, before, after, by);
                            desk
                                    .new Changes(
                                            handle,
                                            by,
                                            kind + " pass",
                                            before.id(),
                                            washId,
                                            before.version(),
                                            "entered")
                                    .field("spirit", before.spiritBatchId(), spiritBatchId)
                                    .field(
                                            "agitation by hand",
                                            before.handAgitation_s(),
                                            handAgitation_s)
                                    .done();
                        });
        return desk.read(handle -> Washes.pass(handle, id, kind));
    }

    private void noteSpirit(Handle handle, WashPass before, WashPass after, By by) {
        if (Objects.equals(before.spiritBatchId(), after.spiritBatchId())) {
            return;
        }
        SpiritBatches.deleteUseOf(handle, after.id());
        if (after.spiritBatchId() != null) {
            SpiritBatches.insertUse(
                    handle,
                    new SpiritUse(
                            Ids.next(),
                            after.spiritBatchId(),
                            SpiritUse.Kind.WASH,
                            after.id(),
                            null,
                            null,
                            "",
                            desk.now(),
                            by.operatorId()));
        }
    }

    /** Takes a wash off the lists as a mistake; nothing of it is deleted. */
    public void remove(UUID washId, long version, String why, By by) {
        putRemoved(washId, version, true, Entry.why(why), by);
    }

    /** Puts a removed wash back. */
    public void putBack(UUID washId, long version, String why, By by) {
        putRemoved(washId, version, false, Entry.why(why), by);
    }

    private void putRemoved(UUID washId, long version, boolean removed, String why, By by) {
        desk.onceAt(
                by,
                removed ? "remove wash" : "put back wash",
                washId,
                handle -> {
                    Wash before = wash(handle, washId);
                    if (!Washes.setRemoved(handle, washId, version, removed ? desk.now() : null)) {
                        throw new EditedMeanwhile(
                                "wash",
                                before.version(),
                                Corrections.since(handle, washId, version));
                    }
                    desk.new Changes(handle, by, "wash", washId, washId, version, why)
                            .field("removed", before.removedAt() != null, removed)
                            .done();
                });
    }

    public Wash wash(UUID id) {
        return desk.read(handle -> wash(handle, id));
    }

    static Wash wash(Handle handle, UUID id) {
        return Washes.find(handle, Entry.present("wash", id))
                .orElseThrow(() -> Refused.notFound("wash", id));
    }

    /**
     * A part of the list of washes, newest first.
     *
     * @param earlier whether there are older ones
     * @param later whether there are newer ones
     * @param total of the whole list
     */
    public record Part(List<WashLine> rows, boolean earlier, boolean later, long total) {}

    /**
     * The part of the list beside a wash; the newest where neither is named.
     *
     * @param before null, or the wash whose older neighbours are wanted
     * @param after null, or the wash whose newer neighbours are wanted
     */
    public Part beside(WashFilter filter, UUID before, UUID after, int size) {
        return desk.read(
                handle -> {
                    long total = Washes.count(handle, filter);
                    Wash beside = before != null ? wash(handle, before) : null;
                    if (after == null) {
                        List<WashLine> rows = Washes.before(handle, filter, beside, size + 1);
                        boolean more = rows.size() > size;
                        return new Part(
                                more ? rows.subList(0, size) : rows, more, before != null, total);
                    }
                    List<WashLine> rows =
                            Washes.after(handle, filter, wash(handle, after), size + 1);
                    boolean more = rows.size() > size;
                    // The nearest are wanted; the one too many is the newest.
                    return new Part(more ? rows.subList(1, rows.size()) : rows, true, more, total);
                });
    }

    /** Newest first. */
    public Listing<WashLine> list(WashFilter filter, Page page) {
        return desk.read(handle -> Washes.list(handle, filter, page));
    }
}
