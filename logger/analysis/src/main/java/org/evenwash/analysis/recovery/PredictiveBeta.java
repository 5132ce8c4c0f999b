package org.evenwash.analysis.recovery;

import java.util.Optional;
import org.evenwash.analysis.numeric.Level;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.numeric.Quantiles;

/**
 * The recovery of one new wash as a Beta law: wider than the uncertainty of the mean recovery, because
 * washes differ.
 *
 * @param a above 0
 * @param b above 0
 */
public record PredictiveBeta(double a, double b) {

    public PredictiveBeta {
        if (!(a > 0 && b > 0) || Double.isInfinite(a) || Double.isInfinite(b)) {
            throw new IllegalArgumentException("no Beta law has the shapes " + a + " and " + b);
        }
    }

    /**
     * The law that a calibration supports: none from a single wash, from washes of one mite each, or
     * where washes differ so much that nearly anything could come next.
     */
    public static Optional<PredictiveBeta> from(RecountSummary summary) {
        double p = summary.shrunk();
        double variance = summary.sdOfNewWash() * summary.sdOfNewWash();
        boolean known =
                summary.washes() > 1
                        && summary.mitesPerWash() > 1
                        && summary.betaA() > 0
                        && summary.betaB() > 0
                        && variance < p * (1 - p) / 2;
        return known
                ? Optional.of(new PredictiveBeta(summary.betaA(), summary.betaB()))
                : Optional.empty();
    }

    public double mean() {
        return a / (a + b);
    }

    /** Variance over squared mean. */
    public double relativeVariance() {
        return b / (a * (a + b + 1));
    }

    /** The 2.5 % and 97.5 % points. */
    public Limits limits() {
        return new Limits(Quantiles.beta(Level.TAIL, a, b), Quantiles.beta(1 - Level.TAIL, a, b));
    }
}
