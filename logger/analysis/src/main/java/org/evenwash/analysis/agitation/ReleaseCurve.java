package org.evenwash.analysis.agitation;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.evenwash.analysis.fit.Binomials;
import org.evenwash.analysis.fit.Search;

/** A fitted curve with its 95 % band, as plain values to draw. */
public final class ReleaseCurve {

    private static final double FURTHEST_LOGIT = 30;
    private static final double FIRST_STEP = 0.2;

    private ReleaseCurve() {}

    /** One point of the curve; shares from 0 to 1. */
    public record Point(double seconds, double share, double lower, double upper) {}

    /**
     * The curve at the given times, its band read from the same profile likelihood as the interval of
     * the time.
     *
     * @param washes the washes that {@code fit} was made from
     * @param seconds each above 0
     */
    public static List<Point> of(List<TimedWash> washes, ReleaseFit fit, double[] seconds) {
        if (fit instanceof ExponentialFit exponential) {
            return ofRate(exponential.time(), seconds);
        }
        PooledTimes data = PooledTimes.exhaustive(washes);
        double highest =
                fit.quality().loglik() - constant(washes); // the profile leaves the constant out
        List<Point> points = new ArrayList<>();
        for (double t : seconds) {
            double share = fit.share(t);
            double inside = logit(share);
            DoubleUnaryOperator excess =
                    s ->
                            2 * (highest - fit.constrained(data, t, 1 / (1 + Math.exp(-s))))
                                    - fit.quality().cutoff();
            points.add(
                    new Point(
                            t,
                            share,
                            Math.min(share, limit(excess, inside, -1)),
                            Math.max(share, limit(excess, inside, 1))));
        }
        return points;
    }

    /** The curve from second washes by the same method. */
    public static List<Point> of(ConditionalFit fit, double[] seconds) {
        return ofRate(fit.time(), seconds);
    }

    /** With one rate the limits of the time are limits of the rate, and so of the whole curve. */
    private static List<Point> ofRate(TimeToShare time, double[] seconds) {
        double decay = -Math.log1p(-time.share());
        List<Point> points = new ArrayList<>();
        for (double t : seconds) {
            points.add(
                    new Point(
                            t,
                            -Math.expm1(-decay * t / time.seconds()),
                            -Math.expm1(-decay * t / time.upper()),
                            -Math.expm1(-decay * t / time.lower())));
        }
        return points;
    }

    private static double constant(List<TimedWash> washes) {
        return washes.stream()
                .mapToDouble(w -> Binomials.logChoose(w.firstWashMites(), w.secondWashMites()))
                .sum();
    }

    private static double logit(double share) {
        double logit = Math.log(share) - Math.log1p(-share);
        return Math.max(-FURTHEST_LOGIT, Math.min(FURTHEST_LOGIT, logit));
    }

    private static double limit(DoubleUnaryOperator excess, double from, int direction) {
        double inside = from;
        double step = FIRST_STEP;
        while (Math.abs(inside) < FURTHEST_LOGIT) {
            double outside =
                    Math.max(-FURTHEST_LOGIT, Math.min(FURTHEST_LOGIT, inside + direction * step));
            if (excess.applyAsDouble(outside) > 0 && !(excess.applyAsDouble(inside) > 0)) {
                double root =
                        Search.root(excess, Math.min(inside, outside), Math.max(inside, outside));
                return 1 / (1 + Math.exp(-root));
            }
            inside = outside;
            step *= 2;
        }
        return direction < 0 ? 0 : 1;
    }
}
