package org.evenwash.analysis.agitation;

import java.util.List;
import java.util.OptionalDouble;
import java.util.function.ToDoubleFunction;
import org.evenwash.analysis.fit.Binomials;
import org.evenwash.analysis.numeric.Level;
import org.evenwash.analysis.numeric.Quantiles;

/**
 * How well a fitted share meets the washes, wash by wash.
 *
 * @param loglik with the binomial coefficients
 * @param deviance against a fit that meets every wash
 * @param aic 2·parameters − 2·loglik
 * @param x2 Pearson's X²
 * @param df washes with mites, less parameters; 0 or less when there are too few
 * @param phiPearson X²/df; empty without degrees of freedom
 * @param phiFletcher X²/df ÷ (1+s̄) (Fletcher 2012, Biometrika 99:230–237), X²/df where 1+s̄ &lt; ½;
 *     not raised to 1
 * @param cutoff by which twice the log-likelihood may fall within a 95 % interval: χ²₁ without
 *     overdispersion, else φ·F(1, df)
 */
public record FitQuality(
        double loglik,
        double deviance,
        double aic,
        double x2,
        int df,
        OptionalDouble phiPearson,
        OptionalDouble phiFletcher,
        double cutoff) {

    /** The dispersion by which intervals are widened: never below 1. */
    public double phi() {
        return Math.max(1, phiFletcher.orElse(1));
    }

    /**
     * Judges a fit.
     *
     * @param hit probability that a mite of this wash is caught by the first of its two washes
     * @param miss its complement, computed without cancellation
     */
    static FitQuality of(
            List<TimedWash> washes,
            ToDoubleFunction<TimedWash> hit,
            ToDoubleFunction<TimedWash> miss,
            int parameters) {
        double loglik = 0;
        double deviance = 0;
        double x2 = 0;
        double skew = 0;
        int used = 0;
        for (TimedWash wash : washes) {
            double x = wash.firstWashMites();
            double y = wash.secondWashMites();
            if (x + y == 0) {
                continue;
            }
            double p = hit.applyAsDouble(wash);
            double r = miss.applyAsDouble(wash);
            loglik += Binomials.logChoose(x, y) + Binomials.kernel(x, y, p, r);
            deviance += Binomials.deviance(x, y, p, r);
            x2 += Binomials.pearson(x, y, p, r);
            skew += Binomials.fletcher(x, y, p, r);
            used++;
        }
        int df = used - parameters;
        double aic = 2 * parameters - 2 * loglik;
        if (df < 1) {
            var none = OptionalDouble.empty();
            return new FitQuality(loglik, deviance, aic, x2, df, none, none, Level.CHI_SQUARE_1);
        }
        double pearson = x2 / df;
        double steadied = 1 + skew / used;
        double fletcher = steadied < 0.5 ? pearson : pearson / steadied;
        return new FitQuality(
                loglik,
                deviance,
                aic,
                x2,
                df,
                OptionalDouble.of(pearson),
                OptionalDouble.of(fletcher),
                cutoff(fletcher, df));
    }

    private static double cutoff(double phi, int df) {
        if (phi <= 1) {
            return Level.CHI_SQUARE_1;
        }
        double t = Quantiles.student95(df);
        return phi * t * t; // F(.95; 1, df) = t²
    }
}
