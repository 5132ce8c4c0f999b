package org.evenwash.analysis.efficacy;

import java.util.List;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.numeric.Quantiles;

/**
 * Efficacy in one colony beside several untreated ones, in per cent: Henderson and Tilton over the
 * pooled controls. Colonies change by themselves, one more, another less. How much is seen between the
 * controls; it is taken to be the same in the treated colony, and is joined to the exact limits of the
 * counting on the log scale (MOVER; Zou and Donner 2008, Stat. Med. 27:1693–1702).
 *
 * @param limits 95 % limits; lower may be {@code -∞}
 */
record BesideControls(HendersonTilton pooled, Limits limits) {

    /** @param controls at least 2 */
    static BesideControls of(BeforeAfter treated, List<BeforeAfter> controls) {
        int k = controls.size();
        HendersonTilton pooled = HendersonTilton.of(treated, pooled(controls));
        double scatter = GroupEfficacy.scatter(controls) * (1 + 1.0 / k);
        double half = Quantiles.student95(k - 1) * Math.sqrt(scatter);
        double estimate = logRatio(pooled.efficacy());
        double up = logRatio(pooled.exact().lower()) - estimate;
        double down = estimate - logRatio(pooled.exact().upper());
        return new BesideControls(
                pooled,
                new Limits(
                        efficacy(estimate + Math.hypot(up, half)),
                        efficacy(estimate - Math.hypot(down, half))));
    }

    static BeforeAfter pooled(List<BeforeAfter> colonies) {
        return new BeforeAfter(
                sum(colonies.stream().map(BeforeAfter::before).toList()),
                sum(colonies.stream().map(BeforeAfter::after).toList()));
    }

    private static Wash sum(List<Wash> washes) {
        return new Wash(
                washes.stream().mapToInt(Wash::mites).sum(),
                washes.stream().mapToDouble(Wash::bees).sum());
    }

    /** {@code -∞} at an efficacy of 100 %. */
    private static double logRatio(double efficacy) {
        return Math.log(1 - efficacy / 100);
    }

    private static double efficacy(double logRatio) {
        return 100 * (1 - Math.exp(logRatio));
    }
}
