package org.evenwash.logger.wash;

import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.spirit.Spirit;
import org.evenwash.analysis.spirit.SpiritBatch;
import org.evenwash.analysis.spirit.Strength;
import org.evenwash.logger.store.SpiritUse;

/**
 * Follows a batch through its uses. A loss counts as evaporation, spirit first: the weaker account
 * then is as weak as it can be, and the stronger one as strong.
 */
final class SpiritLedger {
    private SpiritLedger() {}

    /**
     * @return empty where kind, strength or volume is not known
     * @throws IllegalArgumentException if more leaves than is there
     */
    static Optional<SpiritBatch> of(
            org.evenwash.logger.store.SpiritBatch batch, List<SpiritUse> uses) {
        Optional<Spirit> spirit = SpiritKinds.of(batch.kind());
        if (spirit.isEmpty() || batch.strength_pctVol() == null || batch.volume_mL() == null) {
            return Optional.empty();
        }
        Strength strength = Strength.ofPercentVol(spirit.get(), batch.strength_pctVol());
        SpiritBatch now = SpiritBatch.fresh(batch.volume_mL(), strength);
        for (SpiritUse use : uses) {
            now = after(now, use, strength);
        }
        return Optional.of(now);
    }

    private static SpiritBatch after(SpiritBatch before, SpiritUse use, Strength label) {
        double volume_mL = use.volume_mL() == null ? 0 : use.volume_mL();
        return switch (use.kind()) {
            case WASH -> before.after(new SpiritBatch.Wash(volume_mL));
            case LOSS -> before.after(new SpiritBatch.Evaporation(volume_mL));
            case TOP_UP ->
                    before.after(
                            new SpiritBatch.TopUp(
                                    volume_mL,
                                    use.strength_pctVol() == null
                                            ? label
                                            : Strength.ofPercentVol(
                                                    label.spirit(), use.strength_pctVol())));
            case SIEVED, MURKY -> before;
        };
    }
}
