package org.evenwash.logger.wash;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.evenwash.analysis.protocol.Check;
import org.evenwash.analysis.protocol.Point;
import org.evenwash.analysis.protocol.Protocol;
import org.evenwash.analysis.protocol.WashFacts;
import org.evenwash.logger.store.Corrections;
import org.evenwash.logger.store.SpiritBatch;
import org.evenwash.logger.store.SpiritBatches;
import org.evenwash.logger.store.SpiritUse;
import org.evenwash.record.Ids;
import org.jdbi.v3.core.Handle;

/** Batches of spirit and what is done with them. */
public final class SpiritShelf {
    private static final Set<Point> OF_SPIRIT =
            Set.of(Point.STRENGTH_PERCENT_VOL, Point.SPIRIT_USES, Point.CARRY_OVER_MITES);

    private final Desk desk;

    SpiritShelf(Desk desk) {
        this.desk = desk;
    }

    /**
     * A batch as it is entered.
     *
     * @param strength_pctVol 0 to 100, null if unknown
     * @param flashPoint_C the cautious (lower) value, null if unknown
     * @param mixingJson what it was mixed from, null if bought so
     */
    public record NewBatch(
            String name,
            String kind,
            Double strength_pctVol,
            Double flashPoint_C,
            Double volume_mL,
            LocalDate mixedOn,
            String mixingJson,
            String remarks) {}

    public SpiritBatch addBatch(NewBatch entered, By by) {
        SpiritBatch batch =
                new SpiritBatch(
                        Ids.next(),
                        Entry.name("spirit batch", entered.name()),
                        Entry.name("kind of spirit", entered.kind()),
                        Entry.range("strength", entered.strength_pctVol(), 0, 100, "% vol"),
                        Entry.range("flash point", entered.flashPoint_C(), -50, 200, "°C"),
                        Entry.range("volume", entered.volume_mL(), 1, 1_000_000, "mL"),
                        entered.mixedOn(),
                        null,
                        entered.mixingJson(),
                        Entry.text("remarks", entered.remarks()),
                        desk.now(),
                        1);
        UUID id =
                desk.once(
                        by,
                        "add a spirit batch",
                        batch.id(),
                        handle -> {
                            if (SpiritBatches.named(handle, batch.name()).isPresent()) {
                                throw Refused.conflict(
                                        "spirit batch",
                                        "'" + batch.name() + "' is there already",
                                        "choose another name");
                            }
                            SpiritBatches.insert(handle, batch);
                        });
        return batch(id);
    }

    /** Newest first. */
    public List<SpiritBatch> batches() {
        return desk.read(SpiritBatches::all);
    }

    public SpiritBatch batch(UUID id) {
        return desk.read(handle -> batch(handle, id));
    }

    static SpiritBatch batch(Handle handle, UUID id) {
        return SpiritBatches.find(handle, Entry.present("spirit batch", id))
                .orElseThrow(() -> Refused.notFound("spirit batch", id));
    }

    /** Tops up, pours away, sieves, or notes that mites can no longer be seen through it. */
    public void note(
            UUID batchId,
            SpiritUse.Kind kind,
            Double volume_mL,
            Double strength_pctVol,
            String remarks,
            By by) {
        if (kind == SpiritUse.Kind.WASH) {
            throw Refused.invalid(
                    "spirit use", "WASH is noted with the wash", "choose the batch at the wash");
        }
        Entry.range("volume", volume_mL, 0.1, 1_000_000, "mL");
        Entry.range("strength", strength_pctVol, 0, 100, "% vol");
        SpiritUse use =
                new SpiritUse(
                        Ids.next(),
                        batchId,
                        Entry.present("kind", kind),
                        null,
                        volume_mL,
                        strength_pctVol,
                        Entry.text("remarks", remarks),
                        desk.now(),
                        by.operatorId());
        desk.onceAt(
                by,
                "note a use of spirit batch",
                batchId,
                use.id(),
                handle -> {
                    SpiritBatch batch = batch(handle, batchId);
                    SpiritBatches.insertUse(handle, use);
                    addsUp(handle, batch);
                });
    }

    private static void addsUp(Handle handle, SpiritBatch batch) {
        try {
            SpiritLedger.of(batch, SpiritBatches.uses(handle, batch.id()));
        } catch (IllegalArgumentException e) {
            throw Refused.invalid(
                    "spirit", "does not add up: " + e.getMessage(), "check the volume");
        }
    }

    /** Takes a note back as a mistake; uses for washes go with their wash. */
    public UUID removeNote(UUID useId, String why, By by) {
        String reason = Entry.why(why);
        SpiritUse use = desk.read(handle -> use(handle, useId));
        if (use.kind() == SpiritUse.Kind.WASH) {
            throw Refused.invalid(
                    "spirit use", "belongs to a wash", "change the spirit at that wash");
        }
        desk.onceAt(
                by,
                "take back the note on spirit",
                useId,
                handle -> {
                    SpiritBatches.deleteUse(handle, use(handle, useId).id());
                    addsUp(handle, batch(handle, use.spiritBatchId()));
                    desk.new Changes(handle, by, "spirit", use.spiritBatchId(), null, 1, reason)
                            .field("" + use.kind(), use.happenedAt(), null)
                            .done();
                });
        return use.spiritBatchId();
    }

    private static SpiritUse use(Handle handle, UUID id) {
        return SpiritBatches.findUse(handle, Entry.present("spirit use", id))
                .orElseThrow(() -> Refused.notFound("spirit use", id));
    }

    /**
     * Says that a batch was brought away, or (null) that it is in use after all.
     *
     * @throws EditedMeanwhile if the batch has changed since
     */
    public SpiritBatch discard(UUID batchId, long version, LocalDate onDay, By by) {
        desk.onceAt(
                by,
                "discard spirit batch",
                batchId,
                handle -> {
                    SpiritBatch before = batch(handle, batchId);
                    if (!SpiritBatches.setDiscarded(handle, batchId, version, onDay)) {
                        throw new EditedMeanwhile(
                                "spirit batch",
                                before.version(),
                                Corrections.since(handle, batchId, version));
                    }
                    desk.new Changes(handle, by, "spirit", batchId, null, version, "entered")
                            .field("discarded on", before.discardedOn(), onDay)
                            .done();
                });
        return batch(batchId);
    }

    /** How many washes each batch was used for; batches without one are left out. */
    public Map<UUID, Integer> washes() {
        return desk.read(SpiritBatches::washes);
    }

    /** A batch as it is now, held against a protocol. */
    public SpiritAccount account(UUID batchId, Protocol protocol) {
        return desk.read(
                handle -> {
                    SpiritBatch batch = batch(handle, batchId);
                    List<SpiritUse> uses = SpiritBatches.uses(handle, batchId);
                    var ledger = SpiritLedger.of(batch, uses);
                    var blanks = SpiritBatches.blanks(handle, batchId);
                    int washes = (int) uses.stream().filter(SpiritShelf::isWash).count();
                    return new SpiritAccount(
                            batch,
                            ledger,
                            uses,
                            blanks,
                            checks(protocol, SpiritLedger.state(batch, uses), blanks, washes),
                            washes,
                            murky(uses));
                });
    }

    private static boolean isWash(SpiritUse use) {
        return use.kind() == SpiritUse.Kind.WASH;
    }

    /** Noted as murky later than it was last sieved. */
    private static boolean murky(List<SpiritUse> uses) {
        Instant sieved = latest(uses, SpiritUse.Kind.SIEVED);
        return latest(uses, SpiritUse.Kind.MURKY).isAfter(sieved);
    }

    private static Instant latest(List<SpiritUse> uses, SpiritUse.Kind kind) {
        return uses.stream()
                .filter(use -> use.kind() == kind)
                .map(SpiritUse::happenedAt)
                .max(Instant::compareTo)
                .orElse(Instant.MIN);
    }

    /** The protocol's points on spirit, as the next wash would meet them. */
    private static List<Check> checks(
            Protocol protocol, SpiritState now, List<SpiritBatches.Blank> blanks, int washes) {
        WashFacts.Builder facts = WashFacts.builder().spiritUses(washes);
        if (now.hasStrength()) {
            facts.strength_pctVol(now.weakest_pctVol(), now.strongest_pctVol(), now.how());
        }
        if (!blanks.isEmpty()) {
            facts.carryOverBlank(blanks.get(blanks.size() - 1).mites());
        }
        return protocol.check(facts.build()).stream()
                .filter(check -> OF_SPIRIT.contains(check.point()))
                .toList();
    }

    /** All that happened to a batch, oldest first. */
    public List<SpiritUse> uses(UUID batchId) {
        return desk.read(handle -> SpiritBatches.uses(handle, batchId));
    }
}
