package org.evenwash.analysis.agitation;

import java.util.List;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import org.evenwash.analysis.fit.Search;

/**
 * P = a(1 − e^(−kt)) with 0 &lt; a ≤ 1, fitted by maximum likelihood.
 *
 * @param a share that can be washed off at all; exactly 1 on the boundary
 * @param k per second
 * @param time to the asked share of all mites
 * @param t95OfPlateau seconds to 95 % of what can be washed off at all, whatever share was asked
 */
public record SaturatingFit(
        double a, double k, FitQuality quality, TimeToShare time, double t95OfPlateau)
        implements ReleaseFit {

    /** Past kt = 40 a wash is at the plateau to the last digit. */
    private static final double AT_PLATEAU = 40;

    private static final int SCANNED = 24;
    private static final int SCANNED_CONSTRAINED = 12;
    private static final double SLOWEST_LOG = 6;
    private static final double NEARBY_LOG = 0.5;

    /** Log-likelihoods closer than this are equal. */
    private static final double NO_BETTER = 1e-9;

    /**
     * The fit; nothing when there is one time only, every mite or none came off in the first wash, or
     * all times are already on the plateau, so that no rate can be told.
     */
    public static Optional<SaturatingFit> fit(List<TimedWash> washes, double share) {
        PooledTimes data = PooledTimes.exhaustive(washes);
        if (data.size() < 2 || data.firstTotal == 0 || data.secondTotal == 0) {
            return Optional.empty();
        }
        double exponential = ExponentialFit.rate(data);
        double low = Math.log(exponential) - 2;
        double high = Math.max(low + 3, Math.log(AT_PLATEAU / data.shortest()));
        double scanned =
                Math.exp(Search.maximum(log -> profile(data, Math.exp(log)), low, high, SCANNED));
        double highest = profile(data, scanned);
        boolean boundary =
                plateau(data, exponential) == 1
                        && profile(data, exponential) >= highest - NO_BETTER;
        if (!boundary && profile(data, Math.exp(high)) >= highest - NO_BETTER) {
            return Optional.empty();
        }
        double k = boundary ? exponential : scanned;
        return Optional.of(at(washes, data, plateau(data, k), k, share));
    }

    private static SaturatingFit at(
            List<TimedWash> washes, PooledTimes data, double a, double k, double share) {
        FitQuality quality =
                FitQuality.of(
                        washes,
                        wash -> -a * Math.expm1(-k * wash.agitationS()),
                        wash -> (1 - a) + a * Math.exp(-k * wash.agitationS()),
                        2);
        double highest = kernel(data, a, k);
        var limits =
                new ProfileLimits(
                        t -> constrained(data, k, t, share),
                        highest,
                        quality.cutoff(),
                        data.mites());
        double time = a > share ? -Math.log1p(-share / a) / k : Double.POSITIVE_INFINITY;
        return new SaturatingFit(
                a,
                k,
                quality,
                new TimeToShare(
                        share,
                        time,
                        lower(data, limits, time),
                        neverRuledOut(data, highest, quality.cutoff(), time, share)
                                ? Double.POSITIVE_INFINITY
                                : limits.above(time)),
                -Math.log(0.05) / k);
    }

    private static double lower(PooledTimes data, ProfileLimits limits, double time) {
        if (Double.isFinite(time)) {
            return limits.below(time);
        }
        double late = data.longest() * 1e5;
        return limits.rulesOut(late) ? Double.POSITIVE_INFINITY : limits.below(late);
    }

    /** Whether a plateau of just the asked share, never quite reached, fits well enough. */
    private static boolean neverRuledOut(
            PooledTimes data, double highest, double cutoff, double time, double share) {
        if (Double.isInfinite(time)) {
            return true;
        }
        double low = Math.log(ExponentialFit.rate(data)) - SLOWEST_LOG;
        double high = Math.max(low + 3, Math.log(AT_PLATEAU / data.shortest()));
        double log = Search.maximum(u -> kernel(data, share, Math.exp(u)), low, high, SCANNED);
        return 2 * (highest - kernel(data, share, Math.exp(log))) <= cutoff;
    }

    /** The best a for a given k; the likelihood is concave in a. */
    private static double plateau(PooledTimes data, double k) {
        double[] left = new double[data.size()];
        double atOne = data.firstTotal;
        for (int i = 0; i < left.length; i++) {
            left[i] = Math.exp(-k * data.seconds[i]);
            if (data.second[i] > 0) {
                atOne -= data.second[i] * (1 / left[i] - 1);
            }
        }
        if (atOne >= 0) {
            return 1;
        }
        double low = 0;
        double high = 1;
        double a = data.firstTotal / (data.firstTotal + data.secondTotal);
        for (int step = 0; step < 200; step++) {
            double slope = data.firstTotal;
            double curve = 0;
            for (int i = 0; i < left.length; i++) {
                double g = 1 - left[i];
                double r = (1 - a) + a * left[i];
                slope -= data.second[i] * a * g / r;
                curve += data.second[i] * g / (r * r);
            }
            if (slope > 0) {
                low = a;
            } else {
                high = a;
            }
            double next = a + slope / curve;
            if (!(next > low && next < high)) {
                next = 0.5 * (low + high);
            }
            if (Math.abs(next - a) <= 1e-15 * a) {
                return next;
            }
            a = next;
        }
        return a;
    }

    private static double profile(PooledTimes data, double k) {
        return kernel(data, plateau(data, k), k);
    }

    private static double kernel(PooledTimes data, double a, double k) {
        double sum = data.firstTotal * Math.log(a);
        double never = 1 - a;
        double logNever = Math.log(never);
        for (int i = 0; i < data.size(); i++) {
            double kt = k * data.seconds[i];
            // One exponential serves both, taken where it keeps its digits.
            double exponential = kt < 1 ? Math.expm1(-kt) : Math.exp(-kt);
            double gone = kt < 1 ? -exponential : 1 - exponential;
            double left = kt < 1 ? 1 + exponential : exponential;
            // Most of a search lies where washes are at the plateau to the last digit: no logarithm
            // for them.
            if (data.first[i] > 0 && gone < 1) {
                sum += data.first[i] * Math.log(gone);
            }
            if (data.second[i] > 0) {
                double missed = never + a * left;
                sum += data.second[i] * (missed == never ? logNever : Math.log(missed));
            }
        }
        return sum;
    }

    private static double constrained(PooledTimes data, double k, double seconds, double share) {
        double slowest = Math.log(-Math.log1p(-share) / seconds);
        double low = Math.max(slowest, Math.log(k) - SLOWEST_LOG);
        double high = Math.max(low + 1, Math.log(AT_PLATEAU / Math.min(seconds, data.shortest())));
        DoubleUnaryOperator along = log -> through(data, Math.exp(log), seconds, share);
        double scanned = Search.maximum(along, low, high, SCANNED_CONSTRAINED);
        double home = Math.max(slowest, Math.log(k));
        double best = Math.max(along.applyAsDouble(scanned), along.applyAsDouble(home));
        if (Math.abs(scanned - home) < NEARBY_LOG) {
            return best;
        }
        // With very many mites the likelihood is a spike that a scan may step over: look at home
        // too.
        double near =
                Search.localMaximum(along, Math.max(slowest, home - NEARBY_LOG), home + NEARBY_LOG);
        return Math.max(best, along.applyAsDouble(near));
    }

    private static double through(PooledTimes data, double k, double seconds, double share) {
        return kernel(data, Math.min(1, share / -Math.expm1(-k * seconds)), k);
    }

    @Override
    public ReleaseModel model() {
        return ReleaseModel.SATURATING;
    }

    @Override
    public Optional<TimeToShare> timeToShare() {
        return Optional.of(time);
    }

    @Override
    public double share(double seconds) {
        return -a * Math.expm1(-k * seconds);
    }

    @Override
    public double constrained(PooledTimes data, double seconds, double share) {
        return constrained(data, k, seconds, share);
    }
}
