package org.evenwash.analysis.beecount;

import org.evenwash.analysis.Require;
import org.evenwash.analysis.numeric.Level;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.numeric.Quantiles;

/**
 * Bees at one fill line, predicted for a new sample. With a single calibration sample every spread is
 * NaN.
 *
 * @param samples counted samples
 * @param mean bees
 * @param sd standard deviation between samples
 * @param sePrediction standard error for a new sample
 * @param limits 95 % prediction limits
 * @param logSd standard deviation of the log of a new sample's bees, enlarged so that a normal factor
 *     may be used with it
 */
public record FillLine(
        int samples, double mean, double sd, double sePrediction, Limits limits, double logSd) {

    /** From one or more counted samples at the same line. */
    public static FillLine of(double... bees) {
        return of(0, bees);
    }

    /**
     * From counted samples, with a floor to their standard deviation: samples that happen to be equal
     * do not make the next one certain.
     */
    static FillLine of(double leastSd, double[] bees) {
        int k = bees.length;
        if (k == 0) {
            throw new IllegalArgumentException("a fill line needs at least one counted sample");
        }
        double mean = 0;
        for (double sample : bees) {
            mean += Require.positive("bees", sample) / k;
        }
        double squares = 0;
        for (double sample : bees) {
            squares += (sample - mean) * (sample - mean);
        }
        double sd = k == 1 ? Double.NaN : Math.max(leastSd, Math.sqrt(squares / (k - 1)));
        double se = sd * Math.sqrt(1 + 1.0 / k);
        double half = k == 1 ? Double.NaN : Quantiles.student95(k - 1) * se;
        return new FillLine(
                k, mean, sd, se, new Limits(mean - half, mean + half), logSd(half, mean));
    }

    /** The log-scale spread whose normal 95 % factor matches a half-width from Student's t. */
    static double logSd(double halfWidth, double value) {
        double relative = halfWidth / (Level.Z * value);
        return Math.sqrt(Math.log1p(relative * relative));
    }
}
