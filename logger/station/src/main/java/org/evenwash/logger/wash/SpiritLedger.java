package org.evenwash.logger.wash;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.evenwash.analysis.spirit.FlashPoint;
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

    /** What a batch is after the uses given. */
    static SpiritState state(org.evenwash.logger.store.SpiritBatch batch, List<SpiritUse> uses) {
        Optional<SpiritBatch> ledger = of(batch, uses);
        boolean changed = uses.stream().anyMatch(SpiritLedger::changesStrength);
        String how = "batch " + batch.name() + (changed ? ", followed through its uses" : "");
        if (ledger.isPresent()) {
            SpiritBatch now = ledger.get();
            return new SpiritState(
                    now.weakest().percentVol(),
                    now.strongest().percentVol(),
                    lower(batch.flashPoint_C(), now.flashPoint()),
                    how);
        }
        return batch.strength_pctVol() == null
                ? new SpiritState(null, null, batch.flashPoint_C(), "")
                : unfollowed(batch, uses, how);
    }

    /** Without kind or volume the mixture lies between what was poured in; what evaporated only weakens it. */
    private static SpiritState unfollowed(
            org.evenwash.logger.store.SpiritBatch batch, List<SpiritUse> uses, String how) {
        double[] poured_pctVol =
                Stream.concat(
                                Stream.of(batch.strength_pctVol()),
                                uses.stream()
                                        .filter(use -> use.kind() == SpiritUse.Kind.TOP_UP)
                                        .map(SpiritUse::strength_pctVol)
                                        .filter(strength -> strength != null))
                        .mapToDouble(Double::doubleValue)
                        .sorted()
                        .toArray();
        double strongest_pctVol = poured_pctVol[poured_pctVol.length - 1];
        boolean evaporated = uses.stream().anyMatch(use -> use.kind() == SpiritUse.Kind.LOSS);
        Optional<FlashPoint> flashPoint =
                SpiritKinds.of(batch.kind())
                        .map(spirit -> Strength.ofPercentVol(spirit, strongest_pctVol))
                        .flatMap(FlashPoint::of);
        return new SpiritState(
                evaporated ? null : poured_pctVol[0],
                strongest_pctVol,
                lower(batch.flashPoint_C(), flashPoint),
                how);
    }

    /** What a batch was when a pass used it; as it is now where the pass is not among its uses. */
    static SpiritState stateAt(
            org.evenwash.logger.store.SpiritBatch batch, List<SpiritUse> uses, UUID passId) {
        List<SpiritUse> before =
                uses.stream().takeWhile(use -> !passId.equals(use.passId())).toList();
        return state(batch, before);
    }

    private static boolean changesStrength(SpiritUse use) {
        return use.kind() == SpiritUse.Kind.TOP_UP || use.kind() == SpiritUse.Kind.LOSS;
    }

    private static Double lower(Double entered_C, Optional<FlashPoint> ofStrength) {
        Double cautious_C = ofStrength.map(FlashPoint::cautious_C).orElse(null);
        if (entered_C == null || cautious_C == null) {
            return entered_C == null ? cautious_C : entered_C;
        }
        return Math.min(entered_C, cautious_C);
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
