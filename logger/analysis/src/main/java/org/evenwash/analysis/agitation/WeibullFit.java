package org.evenwash.analysis.agitation;

import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.fit.BinomialFit;
import org.evenwash.analysis.fit.BinomialRegression;
import org.evenwash.analysis.fit.Binomials;
import org.evenwash.analysis.fit.Link;

/**
 * ln(−ln(1−P)) = b0 + b1·ln t, fitted by maximum likelihood: a binomial regression with the
 * complementary log-log link on ln t.
 *
 * @param line intercept, slope and their standard errors
 * @param timeToShare empty when b1 ≤ 0, when more agitation does not wash off more
 */
public record WeibullFit(BinomialFit line, FitQuality quality, Optional<TimeToShare> timeToShare)
        implements ReleaseFit {

    private static final double STEEPEST = 1e6;
    private static final double FLATTEST = 1e-3;
    private static final int MAX_STEPS = 200;

    /** At a maximum the log-likelihood is flat: half the digits of b1 give all of its own. */
    private static final double CLOSE_ENOUGH = 1e-8;

    /** The fit; nothing when some time separates mites washed off from mites left on. */
    public static Optional<WeibullFit> fit(List<TimedWash> washes, double share) {
        PooledTimes data = PooledTimes.exhaustive(washes);
        return line(data).map(line -> at(washes, data, line, share));
    }

    /** The line alone, without its time and interval. */
    static Optional<BinomialFit> line(PooledTimes data) {
        return BinomialRegression.fit(Link.CLOGLOG, data.logSeconds, data.first, data.second);
    }

    private static WeibullFit at(
            List<TimedWash> washes, PooledTimes data, BinomialFit line, double share) {
        FitQuality quality =
                FitQuality.of(
                        washes,
                        wash -> Link.CLOGLOG.probability(eta(line, wash.agitationS())),
                        wash -> Link.CLOGLOG.complement(eta(line, wash.agitationS())),
                        2);
        Optional<TimeToShare> time =
                line.b1() > 0 ? Optional.of(time(data, line, quality, share)) : Optional.empty();
        return new WeibullFit(line, quality, time);
    }

    private static double eta(BinomialFit line, double seconds) {
        return line.b0() + line.b1() * Math.log(seconds);
    }

    private static TimeToShare time(
            PooledTimes data, BinomialFit line, FitQuality quality, double share) {
        double highest = 0;
        for (int i = 0; i < data.size(); i++) {
            highest += kernel(data, i, eta(line, data.seconds[i]));
        }
        double time = Math.exp((Link.CLOGLOG.line(share) - line.b0()) / line.b1());
        double cutoff = quality.cutoff();
        double pooled = data.firstTotal / (data.firstTotal + data.secondTotal);
        // Ever later (earlier) times allow, in the limit, any flat share up to (from) the asked
        // one.
        boolean noUpper = 2 * (highest - flat(data, Math.min(pooled, share))) <= cutoff;
        boolean noLower = 2 * (highest - flat(data, Math.max(pooled, share))) <= cutoff;
        var limits =
                new ProfileLimits(
                        t -> through(data, t, share, line.b1()), highest, cutoff, data.mites());
        boolean representable = time > 0 && Double.isFinite(time);
        return new TimeToShare(
                share,
                time,
                noLower || !representable ? 0 : limits.below(time),
                noUpper || !representable ? Double.POSITIVE_INFINITY : limits.above(time));
    }

    private static double flat(PooledTimes data, double share) {
        return Binomials.kernel(data.firstTotal, data.secondTotal, share, 1 - share);
    }

    private static double kernel(PooledTimes data, int i, double eta) {
        double rate = Math.exp(eta);
        double sum = data.second[i] > 0 ? -data.second[i] * rate : 0;
        return data.first[i] > 0 ? sum + data.first[i] * Math.log(-Math.expm1(-rate)) : sum;
    }

    /**
     * Best log-likelihood of the lines through the asked share at this time. It is concave in b1, so
     * Newton's steps are kept between the slopes already known to be too flat and too steep.
     */
    private static double through(PooledTimes data, double seconds, double share, double start) {
        double eta = Link.CLOGLOG.line(share);
        double log = Math.log(seconds);
        if (!(new Slope(data, eta, log, 0).first > 0)) {
            return flat(data, share);
        }
        double tooFlat = 0;
        double tooSteep = STEEPEST;
        double b1 = start;
        for (int step = 0; step < MAX_STEPS; step++) {
            Slope at = new Slope(data, eta, log, b1);
            if (at.first > 0) {
                tooFlat = b1;
            } else {
                tooSteep = b1;
            }
            double next = b1 - at.first / at.second;
            if (!(next > tooFlat && next < tooSteep)) {
                next = tooSteep < STEEPEST ? 0.5 * (tooFlat + tooSteep) : 2 * b1;
            }
            if (Math.abs(next - b1) <= CLOSE_ENOUGH * b1 || next > STEEPEST) {
                return along(data, eta, log, b1);
            }
            b1 = next;
        }
        return along(data, eta, log, b1);
    }

    private static double along(PooledTimes data, double eta, double log, double b1) {
        double sum = 0;
        for (int i = 0; i < data.size(); i++) {
            sum += kernel(data, i, eta + b1 * (data.logSeconds[i] - log));
        }
        return sum;
    }

    /** First and second derivative of {@link #along} in b1. */
    private static final class Slope {
        private double first;
        private double second;

        Slope(PooledTimes data, double eta, double log, double b1) {
            for (int i = 0; i < data.size(); i++) {
                double distance = data.logSeconds[i] - log;
                double rate = Math.exp(eta + b1 * distance);
                // d ln P/dη = e^η/(e^(e^η) − 1), which tends to 1 far down the line.
                double hit = rate > 0 ? rate / Math.expm1(rate) : 1;
                if (data.first[i] > 0) {
                    first += data.first[i] * hit * distance;
                    second +=
                            hit > 0
                                    ? data.first[i] * hit * (1 - rate - hit) * distance * distance
                                    : 0;
                }
                if (data.second[i] > 0) {
                    first -= data.second[i] * rate * distance;
                    second -= data.second[i] * rate * distance * distance;
                }
            }
        }
    }

    @Override
    public ReleaseModel model() {
        return ReleaseModel.WEIBULL;
    }

    @Override
    public double share(double seconds) {
        return Link.CLOGLOG.probability(eta(line, seconds));
    }

    @Override
    public double constrained(PooledTimes data, double seconds, double share) {
        return through(data, seconds, share, Math.max(line.b1(), FLATTEST));
    }
}
