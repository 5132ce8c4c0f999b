package org.evenwash.analysis.coverage;

import java.util.ArrayList;
import java.util.List;
import org.evenwash.analysis.recovery.WashPair;
import org.hipparchus.random.RandomDataGenerator;

/** Invented washes with a known truth. */
final class Draws {

    private final RandomDataGenerator random;

    Draws(long seed) {
        random = new RandomDataGenerator(seed);
    }

    double uniform(double low, double high) {
        return low + (high - low) * random.nextDouble();
    }

    double logUniform(double low, double high) {
        return Math.exp(uniform(Math.log(low), Math.log(high)));
    }

    double normal(double mean, double sd) {
        return mean + sd * random.nextGaussian();
    }

    double lognormal(double median, double logSd) {
        return median * Math.exp(logSd * random.nextGaussian());
    }

    /** A gamma draw with a mean and a coefficient of variation: colonies of an apiary. */
    double gamma(double mean, double variation) {
        double shape = 1 / (variation * variation);
        return random.nextGamma(shape, mean / shape);
    }

    /** A recovery around a mean, with a correlation of mites within the wash. */
    double recovery(double mean, double rho) {
        if (rho == 0) {
            return mean;
        }
        double size = (1 - rho) / rho;
        return random.nextBeta(mean * size, (1 - mean) * size);
    }

    int poisson(double mean) {
        return mean <= 0 ? 0 : random.nextPoisson(mean);
    }

    int binomial(int size, double p) {
        int hits = 0;
        for (int i = 0; i < size; i++) {
            if (random.nextDouble() < p) {
                hits++;
            }
        }
        return hits;
    }

    /** Washes with exhaustive second washes, each with a Poisson number of mites. */
    List<WashPair> calibration(int washes, double mites, double recovery, double rho) {
        var pairs = new ArrayList<WashPair>();
        for (int i = 0; i < washes; i++) {
            int all = poisson(mites);
            int first = binomial(all, recovery(recovery, rho));
            pairs.add(new WashPair(first, all - first));
        }
        return pairs;
    }
}
