package org.evenwash.analysis.agitation;

import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.fit.BinomialFit;
import org.evenwash.analysis.fit.BinomialRegression;
import org.evenwash.analysis.fit.Binomials;
import org.evenwash.analysis.fit.Link;
import org.evenwash.analysis.fit.Search;

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

    /** The fit; nothing when some time separates mites washed off from mites left on. */
    public static Optional<WeibullFit> fit(List<TimedWash> washes, double share) {
        PooledTimes data = PooledTimes.exhaustive(washes);
        double[] logs = new double[data.size()];
        for (int i = 0; i < logs.length; i++) {
            logs[i] = Math.log(data.seconds[i]);
        }
        return BinomialRegression.fit(Link.CLOGLOG, logs, data.first, data.second)
                .map(line -> at(washes, data, line, share));
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
        var limits = new ProfileLimits(t -> through(data, t, share), highest, cutoff);
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
        double sum = data.second[i] > 0 ? -data.second[i] * Math.exp(eta) : 0;
        return data.first[i] > 0
                ? sum + data.first[i] * Math.log(Link.CLOGLOG.probability(eta))
                : sum;
    }

    /** Best log-likelihood of the lines through the asked share at this time; concave in b1. */
    private static double through(PooledTimes data, double seconds, double share) {
        double eta = Link.CLOGLOG.line(share);
        double log = Math.log(seconds);
        if (!(slope(data, eta, log, 0) > 0)) {
            return flat(data, share);
        }
        double steep = 1;
        while (slope(data, eta, log, steep) > 0) {
            steep *= 2;
            if (steep > STEEPEST) {
                return along(data, eta, log, steep);
            }
        }
        double b1 = Search.root(b -> slope(data, eta, log, b), 0, steep);
        return along(data, eta, log, b1);
    }

    private static double along(PooledTimes data, double eta, double log, double b1) {
        double sum = 0;
        for (int i = 0; i < data.size(); i++) {
            sum += kernel(data, i, eta + b1 * (Math.log(data.seconds[i]) - log));
        }
        return sum;
    }

    private static double slope(PooledTimes data, double eta, double log, double b1) {
        double sum = 0;
        for (int i = 0; i < data.size(); i++) {
            double distance = Math.log(data.seconds[i]) - log;
            double line = eta + b1 * distance;
            double rate = Math.exp(line);
            // d ln P/dη = e^η/(e^(e^η) − 1), which tends to 1 far down the line.
            double hit = rate > 0 ? rate / Math.expm1(rate) : 1;
            double gain = data.first[i] > 0 ? data.first[i] * hit : 0;
            double loss = data.second[i] > 0 ? data.second[i] * rate : 0;
            sum += (gain - loss) * distance;
        }
        return sum;
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
        return through(data, seconds, share);
    }
}
