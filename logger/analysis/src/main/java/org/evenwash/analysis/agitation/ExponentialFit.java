package org.evenwash.analysis.agitation;

import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.numeric.Level;
import org.evenwash.analysis.numeric.Roots;

/**
 * P = 1 − e^(−kt), fitted by maximum likelihood.
 *
 * @param k per second
 * @param time to the asked share
 */
public record ExponentialFit(double k, FitQuality quality, TimeToShare time) implements ReleaseFit {

    /**
     * The fit; nothing when every mite came off in the first wash (k infinite) or none did (k 0).
     *
     * @param share asked for, between 0 and 1
     */
    public static Optional<ExponentialFit> fit(List<TimedWash> washes, double share) {
        PooledTimes data = PooledTimes.exhaustive(washes);
        if (data.firstTotal == 0 || data.secondTotal == 0) {
            return Optional.empty();
        }
        double k = rate(data);
        FitQuality quality =
                FitQuality.of(
                        washes,
                        wash -> -Math.expm1(-k * wash.agitationS()),
                        wash -> Math.exp(-k * wash.agitationS()),
                        1);
        double decay = -Math.log1p(-share);
        double best = decay / k;
        var limits =
                new ProfileLimits(
                        t -> kernel(data, decay / t),
                        kernel(data, k),
                        quality.cutoff(),
                        data.mites());
        return Optional.of(
                new ExponentialFit(
                        k,
                        quality,
                        new TimeToShare(share, best, limits.below(best), limits.above(best))));
    }

    /**
     * When every mite came off in the first wash, the rate below which the chance of that, Π P^N, is
     * under 2.5 %, per second. Exact: with a single time it is Clopper and Pearson's limit (1934,
     * Biometrika 26:404–413) of a share of which none was missed.
     */
    static double slowestRate(PooledTimes data) {
        return Math.exp(
                Roots.ofIncreasing(
                        log -> finite(kernel(data, Math.exp(log)) + Level.NONE_COUNTED),
                        data.roughLogRate(),
                        0.5,
                        -690,
                        690));
    }

    /** The score is strictly falling in k, so its root is the only maximum. */
    static double rate(PooledTimes data) {
        return Math.exp(
                Roots.ofIncreasing(
                        log -> finite(-score(data, Math.exp(log))),
                        data.roughLogRate(),
                        0.5,
                        -690,
                        690));
    }

    private static double score(PooledTimes data, double k) {
        double sum = 0;
        for (int i = 0; i < data.size(); i++) {
            double t = data.seconds[i];
            sum += data.first[i] * t / Math.expm1(k * t) - data.second[i] * t;
        }
        return sum;
    }

    static double kernel(PooledTimes data, double k) {
        double sum = 0;
        for (int i = 0; i < data.size(); i++) {
            double kt = k * data.seconds[i];
            if (data.first[i] > 0) {
                sum += data.first[i] * Math.log(-Math.expm1(-kt));
            }
            sum -= data.second[i] * kt;
        }
        return sum;
    }

    private static double finite(double value) {
        return Math.max(-1e300, Math.min(1e300, value));
    }

    @Override
    public ReleaseModel model() {
        return ReleaseModel.EXPONENTIAL;
    }

    @Override
    public Optional<TimeToShare> timeToShare() {
        return Optional.of(time);
    }

    @Override
    public double share(double seconds) {
        return -Math.expm1(-k * seconds);
    }

    @Override
    public double constrained(PooledTimes data, double seconds, double share) {
        return kernel(data, -Math.log1p(-share) / seconds);
    }
}
