package org.evenwash.analysis.beecount;

import org.evenwash.analysis.Require;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.numeric.Quantiles;

/**
 * Bees from the mass of a sample: a ratio whose scatter grows with the square root of the mass
 * (regression through the origin with weights 1/g). With a single calibration sample every spread is
 * NaN.
 *
 * @param samples weighed and counted samples
 * @param beesPerGram ratio of the totals
 * @param scatter bees per √g
 * @param bees predicted for the new sample
 * @param sePrediction its standard error
 * @param limits 95 % prediction limits
 * @param logSd standard deviation of the log of the new sample's bees, enlarged so that a normal
 *     factor may be used with it
 */
public record MassRatio(
        int samples,
        double beesPerGram,
        double scatter,
        double bees,
        double sePrediction,
        Limits limits,
        double logSd) {

    /**
     * Predicts the bees of a new sample.
     *
     * @param grams masses of the calibration samples, above 0
     * @param counted bees counted in them, above 0
     * @param newGrams mass of the new sample, above 0
     */
    public static MassRatio of(double[] grams, double[] counted, double newGrams) {
        return of(grams, counted, newGrams, 0);
    }

    /** As above, with a floor to the standard deviation of a sample of the new mass, in bees. */
    static MassRatio of(double[] grams, double[] counted, double newGrams, double leastSd) {
        Require.sameLength("grams", grams.length, "bees", counted.length);
        Require.positive("grams of the new sample", newGrams);
        int k = grams.length;
        if (k == 0) {
            throw new IllegalArgumentException("a ratio needs at least one counted sample");
        }
        double mass = 0;
        double bees = 0;
        for (int i = 0; i < k; i++) {
            mass += Require.positive("grams", grams[i]);
            bees += Require.positive("bees", counted[i]);
        }
        double ratio = bees / mass;
        double squares = 0;
        for (int i = 0; i < k; i++) {
            double error = counted[i] - ratio * grams[i];
            squares += error * error / grams[i];
        }
        double floor = leastSd / Math.sqrt(newGrams);
        double s = k == 1 ? Double.NaN : Math.max(floor, Math.sqrt(squares / (k - 1)));
        double predicted = ratio * newGrams;
        double se = s * Math.sqrt(newGrams * (1 + newGrams / mass));
        double half = k == 1 ? Double.NaN : Quantiles.student95(k - 1) * se;
        return new MassRatio(
                k,
                ratio,
                s,
                predicted,
                se,
                new Limits(predicted - half, predicted + half),
                FillLine.logSd(half, predicted));
    }
}
