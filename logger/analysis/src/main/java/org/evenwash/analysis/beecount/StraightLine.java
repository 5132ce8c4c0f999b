package org.evenwash.analysis.beecount;

import org.evenwash.analysis.numeric.Probabilities;

/**
 * Least-squares line of bees on grams, to ask whether it passes through the origin.
 *
 * @param intercept bees at 0 g
 * @param interceptP two-sided probability of such an intercept if the line passes through the origin;
 *     NaN with fewer than 3 samples or a single mass; 0 or 1 on a perfect line
 */
record StraightLine(double intercept, double interceptP) {

    static StraightLine of(double[] x, double[] y) {
        int n = x.length;
        double meanX = 0;
        double meanY = 0;
        for (int i = 0; i < n; i++) {
            meanX += x[i] / n;
            meanY += y[i] / n;
        }
        double sxx = 0;
        double sxy = 0;
        for (int i = 0; i < n; i++) {
            sxx += (x[i] - meanX) * (x[i] - meanX);
            sxy += (x[i] - meanX) * (y[i] - meanY);
        }
        double slope = sxy / sxx;
        double intercept = meanY - slope * meanX;
        if (n < 3 || sxx == 0) {
            return new StraightLine(intercept, Double.NaN);
        }
        double rss = 0;
        for (int i = 0; i < n; i++) {
            double error = y[i] - intercept - slope * x[i];
            rss += error * error;
        }
        double variance = rss / (n - 2) * (1.0 / n + meanX * meanX / sxx);
        if (variance == 0) {
            return new StraightLine(intercept, intercept == 0 ? 1 : 0);
        }
        return new StraightLine(
                intercept, Probabilities.studentTwoSided(intercept / Math.sqrt(variance), n - 2));
    }
}
