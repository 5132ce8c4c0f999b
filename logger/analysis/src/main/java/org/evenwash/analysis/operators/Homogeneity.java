package org.evenwash.analysis.operators;

import java.util.Optional;
import org.evenwash.analysis.numeric.Probabilities;

/**
 * Whether several shares differ by more than chance, on totals.
 *
 * <p>The χ² tail takes every mite for independent; washes are not that even, so it is no verdict on
 * operators (it cries wolf in 20–44 % of honest comparisons). {@link WashPermutation} is.
 *
 * @param chi2 Σ(x−Np)²/(Np(1−p)) with the pooled share p
 * @param df operators less 1
 * @param p tail probability of χ²
 * @param pooled share of all operators together
 * @param tau SD between the operators' true shares (DerSimonian &amp; Laird 1986, Control. Clin.
 *     Trials 7:177–188); 0 where the estimate of its square is negative
 */
public record Homogeneity(double chi2, int df, double p, double pooled, double tau) {

    /** With binomial weights, dispersion 1. */
    public static Optional<Homogeneity> of(double[] x, double[] n) {
        return of(x, n, 1);
    }

    /**
     * With weights N/(φp(1−p)).
     *
     * @param x hits of each operator
     * @param n trials of each operator; operators without trials are left out
     * @param phi dispersion within operators, 1 or more; it changes {@code tau} only
     * @return nothing for fewer than two operators, or when the pooled share is 0 or 1
     */
    public static Optional<Homogeneity> of(double[] x, double[] n, double phi) {
        double hits = 0;
        double trials = 0;
        int operators = 0;
        for (int j = 0; j < x.length; j++) {
            if (n[j] > 0) {
                hits += x[j];
                trials += n[j];
                operators++;
            }
        }
        if (operators < 2 || hits == 0 || hits == trials) {
            return Optional.empty();
        }
        double p = hits / trials;
        double variance = p * (1 - p);
        double chi2 = 0;
        double weights = 0;
        double squares = 0;
        for (int j = 0; j < x.length; j++) {
            if (n[j] > 0) {
                double residual = x[j] - n[j] * p;
                chi2 += residual * residual / (n[j] * variance);
                double weight = n[j] / (phi * variance);
                weights += weight;
                squares += weight * weight;
            }
        }
        int df = operators - 1;
        double between = (chi2 / phi - df) / (weights - squares / weights);
        return Optional.of(
                new Homogeneity(
                        chi2,
                        df,
                        Probabilities.chiSquareAbove(chi2, df),
                        p,
                        Math.sqrt(Math.max(0, between))));
    }
}
