package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.SpiritBatch;
import org.evenwash.logger.store.SpiritBatches;
import org.evenwash.logger.store.SpiritUse;
import org.jdbi.v3.core.Handle;

/** Batches of spirit and what is done with them. */
public final class SpiritShelf {
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
                        UUID.randomUUID(),
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
                        UUID.randomUUID(),
                        batchId,
                        Entry.present("kind", kind),
                        null,
                        volume_mL,
                        strength_pctVol,
                        Entry.text("remarks", remarks),
                        desk.now(),
                        by.operatorId());
        desk.once(
                by,
                "note a use of spirit",
                use.id(),
                handle -> {
                    batch(handle, batchId);
                    SpiritBatches.insertUse(handle, use);
                });
    }

    /** All that happened to a batch, oldest first. */
    public List<SpiritUse> uses(UUID batchId) {
        return desk.read(handle -> SpiritBatches.uses(handle, batchId));
    }
}
