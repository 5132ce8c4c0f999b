package org.evenwash.analysis.recovery;

import java.util.List;
import java.util.function.IntToDoubleFunction;
import java.util.stream.IntStream;
import org.evenwash.analysis.numeric.Roots;
import org.hipparchus.special.Gamma;
import org.hipparchus.util.CombinatoricsUtils;

/**
 * Maximum-likelihood fit of a beta-binomial law to the first-wash mites: mean recovery and the
 * correlation of mites within a wash.
 *
 * @param mu mean recovery, a/(a+b)
 * @param rho correlation, 1/(a+b+1); 0 where the washes vary no more than chance, NaN where every
 *     mite came off in one wash so that nothing can be told
 * @param logLikelihood with the binomial coefficients
 */
public record BetaBinomial(double mu, double rho, double logLikelihood) {

    /** More mites than this are not fitted: the sums below run over single mites. */
    public static final int MOST_MITES = 20_000;

    private static final double LEAST_LOG_GAMMA = Math.log(1e-9);
    private static final double MOST_LOG_GAMMA = Math.log(1e6);
    private static final int GRID = 70;

    /**
     * Fits any number of washes above zero with a mite in at least one.
     *
     * @throws IllegalArgumentException without a mite, or with more than {@link #MOST_MITES}
     */
    public static BetaBinomial of(List<WashPair> all) {
        List<WashPair> pairs = all.stream().filter(pair -> pair.total() > 0).toList();
        long mites = pairs.stream().mapToLong(WashPair::total).sum();
        long first = pairs.stream().mapToLong(WashPair::first).sum();
        if (mites == 0 || mites > MOST_MITES) {
            throw new IllegalArgumentException(
                    "a beta-binomial fit takes 1 to " + MOST_MITES + " mites, not " + mites);
        }
        double constant = pairs.stream().mapToDouble(BetaBinomial::logCoefficient).sum();
        if (first == 0 || first == mites) {
            return new BetaBinomial((double) first / mites, Double.NaN, 0);
        }
        return new Likelihood(pairs).maximum(constant);
    }

    private static double logCoefficient(WashPair pair) {
        return Gamma.logGamma(pair.total() + 1.0)
                - CombinatoricsUtils.factorialLog(pair.first())
                - CombinatoricsUtils.factorialLog(pair.second());
    }

    /**
     * The likelihood as products over single mites, (μ + jγ)…, with γ = ρ/(1−ρ): exact and without
     * cancellation down to γ = 0, where it is the binomial one. Each array counts the washes with more
     * than j mites.
     */
    private static final class Likelihood {
        private final int[] first;
        private final int[] second;
        private final int[] all;

        Likelihood(List<WashPair> pairs) {
            first = exceeding(pairs.stream().mapToInt(WashPair::first).toArray());
            second = exceeding(pairs.stream().mapToInt(WashPair::second).toArray());
            all = exceeding(pairs.stream().mapToInt(WashPair::total).toArray());
        }

        BetaBinomial maximum(double constant) {
            double best = 0;
            double bestValue = value(mu(0), 0);
            double step = (MOST_LOG_GAMMA - LEAST_LOG_GAMMA) / GRID;
            for (int i = 0; i < GRID; i++) {
                double low = LEAST_LOG_GAMMA + i * step;
                double high = low + step;
                // A maximum lies where the slope of the profile turns from up to down.
                if (slope(low) > 0 && slope(high) <= 0) {
                    double gamma = Math.exp(Roots.between(this::slope, low, high));
                    double value = value(mu(gamma), gamma);
                    if (value > bestValue) {
                        best = gamma;
                        bestValue = value;
                    }
                }
            }
            double most = Math.exp(MOST_LOG_GAMMA);
            if (value(mu(most), most) > bestValue) {
                best = most;
                bestValue = value(mu(most), most);
            }
            return new BetaBinomial(mu(best), best / (1 + best), constant + bestValue);
        }

        /** The best μ for a given γ; the score falls steadily in μ, so there is one root. */
        private double mu(double gamma) {
            return Roots.between(m -> score(m, gamma), 1e-14, 1 - 1e-14);
        }

        private double score(double mu, double gamma) {
            return sum(first, j -> 1 / (mu + j * gamma))
                    - sum(second, j -> 1 / (1 - mu + j * gamma));
        }

        /** Slope of the profile likelihood in ln γ, by the envelope theorem. */
        private double slope(double logGamma) {
            double gamma = Math.exp(logGamma);
            double mu = mu(gamma);
            return gamma
                    * (sum(first, j -> j / (mu + j * gamma))
                            + sum(second, j -> j / (1 - mu + j * gamma))
                            - sum(all, j -> j / (1 + j * gamma)));
        }

        private double value(double mu, double gamma) {
            return sum(first, j -> Math.log(mu + j * gamma))
                    + sum(second, j -> Math.log(1 - mu + j * gamma))
                    - sum(all, j -> Math.log1p(j * gamma));
        }

        private static double sum(int[] washes, IntToDoubleFunction term) {
            double sum = 0;
            for (int j = 0; j < washes.length; j++) {
                sum += washes[j] * term.applyAsDouble(j);
            }
            return sum;
        }

        private static int[] exceeding(int[] counts) {
            var washes = new int[IntStream.of(counts).max().orElse(0)];
            for (int count : counts) {
                for (int j = 0; j < count; j++) {
                    washes[j]++;
                }
            }
            return washes;
        }
    }
}
