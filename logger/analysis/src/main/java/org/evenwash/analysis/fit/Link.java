package org.evenwash.analysis.fit;

import org.hipparchus.special.Erf;

/**
 * How a straight line becomes a probability, for a binomial regression P = link⁻¹(b0 + b1·dose).
 * Both P and 1−P are given, because 1 − P computed by subtraction loses every digit near 1.
 */
public enum Link {
    /** P = 1/(1+e^−η). */
    LOGIT {
        @Override
        public double probability(double eta) {
            return 1 / (1 + Math.exp(-eta));
        }

        @Override
        public double complement(double eta) {
            return 1 / (1 + Math.exp(eta));
        }

        @Override
        public double slope(double eta) {
            return probability(eta) * complement(eta);
        }

        @Override
        public double line(double p) {
            return Math.log(p) - Math.log1p(-p);
        }
    },
    /** P = Φ(η), the standard normal distribution. */
    PROBIT {
        @Override
        public double probability(double eta) {
            return 0.5 * Erf.erfc(-eta / SQRT_2);
        }

        @Override
        public double complement(double eta) {
            return 0.5 * Erf.erfc(eta / SQRT_2);
        }

        @Override
        public double slope(double eta) {
            return Math.exp(-0.5 * eta * eta) / SQRT_2_PI;
        }

        @Override
        public double line(double p) {
            return -SQRT_2 * Erf.erfcInv(2 * p);
        }
    },
    /** Complementary log-log, P = 1 − exp(−e^η): release at a rate that follows a power of time. */
    CLOGLOG {
        @Override
        public double probability(double eta) {
            return -Math.expm1(-Math.exp(eta));
        }

        @Override
        public double complement(double eta) {
            return Math.exp(-Math.exp(eta));
        }

        @Override
        public double slope(double eta) {
            return Math.exp(eta - Math.exp(eta));
        }

        @Override
        public double line(double p) {
            return Math.log(-Math.log1p(-p));
        }
    };

    private static final double SQRT_2 = Math.sqrt(2);
    private static final double SQRT_2_PI = Math.sqrt(2 * Math.PI);

    /** P at the line's value η. */
    public abstract double probability(double eta);

    /** 1 − P at the line's value η, without cancellation. */
    public abstract double complement(double eta);

    /** dP/dη. */
    public abstract double slope(double eta);

    /** The line's value η at which the probability is {@code p}, 0 &lt; p &lt; 1. */
    public abstract double line(double p);
}
