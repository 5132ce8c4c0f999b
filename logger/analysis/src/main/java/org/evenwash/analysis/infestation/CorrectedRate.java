package org.evenwash.analysis.infestation;

import org.evenwash.analysis.Require;
import org.evenwash.analysis.numeric.Level;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.recovery.PredictiveBeta;

/**
 * Mites per 100 bees from an uncertain number of bees and an uncertain recovery. The limits of the
 * three sources are joined on the log scale by MOVER, the method of variance estimates recovery
 * (Zou and Donner 2008, Stat. Med. 27:1693–1702), which keeps each source's own asymmetry.
 *
 * @param value 100·mites / (bees · mean recovery)
 * @param lower 95 % lower limit; 0 when no mite was found
 * @param upper 95 % upper limit; {@code +∞} if the recovery may be zero
 */
public record CorrectedRate(double value, double lower, double upper) {

    /** Corrected for recovery. */
    public static CorrectedRate of(int mites, BeesInSample bees, PredictiveBeta recovery) {
        double mean = recovery.mean();
        Limits limits = recovery.limits();
        return of(
                mites,
                bees,
                mean,
                Math.log(limits.upper() / mean),
                Math.log(mean / limits.lower()),
                recovery.relativeVariance());
    }

    /** As washed: only the number of bees is uncertain. */
    public static CorrectedRate uncorrected(int mites, BeesInSample bees) {
        return of(mites, bees, 1, 0, 0, 0);
    }

    private static CorrectedRate of(
            int mites,
            BeesInSample bees,
            double recovery,
            double logAbove,
            double logBelow,
            double recoveryVariance) {
        Require.count("mites", mites);
        double perMite = 100 / (bees.number() * recovery);
        if (mites == 0) {
            double c2 = bees.logSd() * bees.logSd() + recoveryVariance;
            return new CorrectedRate(0, 0, perMite * noneCounted(c2));
        }
        Limits count = Limits.ofCount(mites);
        double u = Level.Z * bees.logSd();
        double down = Math.hypot(Math.hypot(Math.log(mites / count.lower()), u), logAbove);
        double up = Math.hypot(Math.hypot(Math.log(count.upper() / mites), u), logBelow);
        double value = perMite * mites;
        return new CorrectedRate(value, value * Math.exp(-down), value * Math.exp(up));
    }

    /** Upper limit of the count when nothing was found, widened by a relative variance c². */
    private static double noneCounted(double c2) {
        return c2 == 0 ? Level.NONE_COUNTED : Math.expm1(Level.NONE_COUNTED * c2) / c2;
    }
}
