package org.evenwash.logger.wash;

import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.protocol.Check;
import org.evenwash.analysis.spirit.SpiritBatch;
import org.evenwash.logger.store.SpiritBatches;
import org.evenwash.logger.store.SpiritUse;

/**
 * A batch of spirit with all that happened to it.
 *
 * @param ledger what it is now; empty where kind, strength or volume is not known
 * @param uses oldest first
 * @param blanks runs of this spirit without bees, oldest first
 * @param checks of the protocol that concern spirit
 * @param washes that it was used for
 * @param murky noted as too murky, and not sieved since
 */
public record SpiritAccount(
        org.evenwash.logger.store.SpiritBatch batch,
        Optional<SpiritBatch> ledger,
        List<SpiritUse> uses,
        List<SpiritBatches.Blank> blanks,
        List<Check> checks,
        int washes,
        boolean murky) {
    /** Common practice, no source: sieved and reused for some five to seven washes. */
    public static final int USUAL_WASHES = 7;

    public SpiritAccount {
        uses = List.copyOf(uses);
        blanks = List.copyOf(blanks);
        checks = List.copyOf(checks);
    }

    /** The latest blank run, if it found mites. */
    public Optional<SpiritBatches.Blank> carryOver() {
        return blanks.isEmpty()
                ? Optional.empty()
                : Optional.of(blanks.get(blanks.size() - 1)).filter(blank -> blank.mites() > 0);
    }

    /** The cautious flash point of what is in the jar now. */
    public Optional<Double> flashPoint_C() {
        return Optional.ofNullable(SpiritLedger.state(batch, uses).flashPoint_C());
    }
}
