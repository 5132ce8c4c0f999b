package org.evenwash.analysis.efficacy;

import org.evenwash.analysis.numeric.Limits;

/**
 * Reduction of one infestation against another, in per cent, with exact conditional 95 % limits: before
 * and after in the same colony, or treated against control (Abbott 1925, J. Econ. Entomol. 18:265–267).
 *
 * @param efficacy 100·(1 − ratio); {@code -∞} if only the reference had no mite, NaN if neither had one
 * @param limits lower may be {@code -∞}
 */
public record RateChange(double efficacy, Limits limits) {

    /** Of {@code after} against the reference {@code before}. */
    public static RateChange of(Wash before, Wash after) {
        double a = after.mites();
        double b = before.mites();
        double ratio = (a / after.bees()) / (b / before.bees());
        double factor = before.bees() / after.bees();
        // Given all mites, those found after follow a binomial law.
        Limits share = Limits.ofProportion(a, a + b);
        return new RateChange(
                100 * (1 - ratio),
                new Limits(
                        100 * (1 - factor * odds(share.upper())),
                        100 * (1 - factor * odds(share.lower()))));
    }

    private static double odds(double share) {
        return share / (1 - share);
    }
}
