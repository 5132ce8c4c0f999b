package org.evenwash.analysis.apiary;

import java.util.List;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.numeric.Quantiles;

/**
 * Mean infestation of the colonies of an apiary of which some were washed. The finite-population
 * correction shrinks only the variance between colonies; counting noise stays even when every colony
 * was washed (two-stage sampling, Cochran 1977, ch. 10). Figures that need two colonies, or a mite, are
 * NaN without.
 *
 * @param mean mites per 100 bees, colonies weighing alike
 * @param sd standard deviation between the washes
 * @param seSamplingOnly standard error as if each wash were exact
 * @param se standard error with counting noise
 * @param t factor of the 95 % interval
 * @param plain mean ∓ t·se, for comparison only
 * @param limits 95 % limits on the log scale: the ones to use
 */
public record ApiaryMean(
        double mean,
        double sd,
        double seSamplingOnly,
        double se,
        double t,
        Limits plain,
        Limits limits) {

    /**
     * @param washes one a colony, at least one
     * @param colonies all colonies of the apiary, at least as many as were washed
     */
    public static ApiaryMean of(List<ColonyWash> washes, int colonies) {
        int n = washes.size();
        if (n == 0 || colonies < n) {
            throw new IllegalArgumentException(
                    n + " colonies washed of " + colonies + ": wash at least one, at most all");
        }
        double mean = 0;
        double counting = 0;
        for (ColonyWash wash : washes) {
            mean += wash.rate() / n;
            counting += 1e4 * wash.mites() / (wash.bees() * wash.bees()) / n;
        }
        if (n == 1) {
            var none = new Limits(Double.NaN, Double.NaN);
            return new ApiaryMean(mean, Double.NaN, Double.NaN, Double.NaN, Double.NaN, none, none);
        }
        double squares = 0;
        for (ColonyWash wash : washes) {
            squares += (wash.rate() - mean) * (wash.rate() - mean);
        }
        double variance = squares / (n - 1);
        double sampling = (1 - (double) n / colonies) * variance / n;
        double se = Math.sqrt(Math.max(sampling + counting / colonies, counting / n));
        double t = Quantiles.student95(n - 1);
        double relative = t * se / mean;
        return new ApiaryMean(
                mean,
                Math.sqrt(variance),
                Math.sqrt(sampling),
                se,
                t,
                new Limits(Math.max(0, mean - t * se), mean + t * se),
                new Limits(mean * Math.exp(-relative), mean * Math.exp(relative)));
    }
}
