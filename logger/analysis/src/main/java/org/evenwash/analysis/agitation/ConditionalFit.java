package org.evenwash.analysis.agitation;

import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.numeric.Level;
import org.evenwash.analysis.numeric.Roots;

/**
 * P = 1 − e^(−kt) from second washes by the same method, which leave some mites on: given that a
 * mite came off in either wash, it came off in the first with probability P(t)/P(t+T2). A plateau
 * cancels in this ratio, so it cannot be seen from such data.
 *
 * @param k per second
 * @param time to the asked share, its interval with the cut-off of {@code quality}
 * @param unscaled the same as if washes scattered no more than chance in counting; empty where they
 *     do not
 */
public record ConditionalFit(
        double k, FitQuality quality, TimeToShare time, Optional<TimeToShare> unscaled) {

    /**
     * The fit; nothing when no mites came off in a second wash, or as many as if agitation did not
     * matter (k 0).
     *
     * @param washes all with the agitation time of their second wash
     */
    public static Optional<ConditionalFit> fit(List<TimedWash> washes, double share) {
        PooledTimes data = PooledTimes.sameMethod(washes);
        if (data.firstTotal == 0 || data.secondTotal == 0 || !(slopeAtZero(data) > 0)) {
            return Optional.empty();
        }
        double k =
                Math.exp(
                        Roots.ofIncreasing(
                                log -> -score(data, Math.exp(log)),
                                data.roughLogRate(),
                                0.5,
                                Math.log(1e-6 / longest(data)),
                                690));
        FitQuality quality =
                FitQuality.of(
                        washes,
                        wash -> hit(k, wash.agitationS(), wash.secondWashS().orElseThrow()),
                        wash -> miss(k, wash.agitationS(), wash.secondWashS().orElseThrow()),
                        1);
        Optional<TimeToShare> unscaled =
                quality.phi() > 1
                        ? Optional.of(time(data, k, share, Level.CHI_SQUARE_1))
                        : Optional.empty();
        TimeToShare time = time(data, k, share, quality.cutoff());
        return Optional.of(new ConditionalFit(k, quality, time, unscaled));
    }

    /**
     * When no mites came off in a second wash, the rate below which the chance of that is under
     * 2.5 %, per second; nothing if even for the slowest rate it is not.
     */
    static Optional<Double> slowestRate(PooledTimes data) {
        if (atZero(data) + Level.NONE_COUNTED >= 0) {
            return Optional.empty();
        }
        return Optional.of(
                Math.exp(
                        Roots.ofIncreasing(
                                log -> kernel(data, Math.exp(log)) + Level.NONE_COUNTED,
                                data.roughLogRate(),
                                0.5,
                                -690,
                                690)));
    }

    /** Fitted share of all mites that can be washed off, after {@code seconds}. */
    public double share(double seconds) {
        return -Math.expm1(-k * seconds);
    }

    private static TimeToShare time(PooledTimes data, double k, double share, double cutoff) {
        double decay = -Math.log1p(-share);
        double highest = kernel(data, k);
        var limits = new ProfileLimits(t -> kernel(data, decay / t), highest, cutoff, data.mites());
        double best = decay / k;
        boolean noUpper = 2 * (highest - atZero(data)) <= cutoff;
        return new TimeToShare(
                share,
                best,
                limits.below(best),
                noUpper ? Double.POSITIVE_INFINITY : limits.above(best));
    }

    private static double hit(double k, double t, double t2) {
        return Math.expm1(-k * t) / Math.expm1(-k * (t + t2));
    }

    private static double miss(double k, double t, double t2) {
        return Math.exp(-k * t) * (Math.expm1(-k * t2) / Math.expm1(-k * (t + t2)));
    }

    private static double longest(PooledTimes data) {
        double longest = 0;
        for (int i = 0; i < data.size(); i++) {
            longest = Math.max(longest, data.seconds[i] + data.secondSeconds[i]);
        }
        return longest;
    }

    static double kernel(PooledTimes data, double k) {
        double sum = 0;
        for (int i = 0; i < data.size(); i++) {
            double t = data.seconds[i];
            double t2 = data.secondSeconds[i];
            double both = Math.log(-Math.expm1(-k * (t + t2)));
            if (data.first[i] > 0) {
                sum += data.first[i] * (Math.log(-Math.expm1(-k * t)) - both);
            }
            if (data.second[i] > 0) {
                sum += data.second[i] * (-k * t + Math.log(-Math.expm1(-k * t2)) - both);
            }
        }
        return sum;
    }

    /** The limit k → 0: a mite comes off at any moment of both washes alike. */
    private static double atZero(PooledTimes data) {
        double sum = 0;
        for (int i = 0; i < data.size(); i++) {
            double both = data.seconds[i] + data.secondSeconds[i];
            sum += data.first[i] * Math.log(data.seconds[i] / both);
            sum += data.second[i] * Math.log(data.secondSeconds[i] / both);
        }
        return sum;
    }

    /** Twice the slope of the log-likelihood in k at k = 0. */
    private static double slopeAtZero(PooledTimes data) {
        double sum = 0;
        for (int i = 0; i < data.size(); i++) {
            sum += data.first[i] * data.secondSeconds[i] - data.second[i] * data.seconds[i];
        }
        return sum;
    }

    private static double score(PooledTimes data, double k) {
        double sum = 0;
        for (int i = 0; i < data.size(); i++) {
            double t = data.seconds[i];
            double t2 = data.secondSeconds[i];
            sum +=
                    data.first[i] * t / Math.expm1(k * t)
                            + data.second[i] * (t2 / Math.expm1(k * t2) - t)
                            - (data.first[i] + data.second[i])
                                    * ((t + t2) / Math.expm1(k * (t + t2)));
        }
        return sum;
    }
}
